"""Words beside a code must not contradict it: they may say less than the catalogue, or the same in other units, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.medicine_csv import parse_medicines
from dosewright.core.interop.medicine_words import MedicineWords
from dosewright.core.medicines.medicine import Medicine

FILE = """\
code,name,strength,form
biso5,Bisoprolol,5 mg,tablet
pred5,Prednisolone,5 mg,tablet
predgr,Prednisolone,5 mg,gastro-resistant tablet
los50,Losartan,50 mg,tablet
loshct,Losartan and hydrochlorothiazide,50 mg/12.5 mg,tablet
hct25,Hydrochlorothiazide,25 mg,tablet
calc,Calcium carbonate with colecalciferol,1.5 g and 400 units,tablet
codo,Co-careldopa,25 mg/100 mg,tablet
tams,Tamsulosin,400 micrograms,modified-release capsule
aspd,Aspirin,75 mg,dispersible tablet
salb,Salbutamol,100 micrograms per dose,inhaler
amox,Amoxicillin,500 mg,capsule
"""
MEDICINES: dict[str, Medicine] = {str(code): held for code, held in (parse_medicines(FILE, "m.csv").by_code()).items()}
WORDS = MedicineWords(MEDICINES.values())

AGREE = [
    ("biso5", "Bisoprolol"),
    ("biso5", "BISOPROLOL 5MG TABLETS"),
    ("biso5", "Bisoprolol fumarate 5 mg film-coated tablet"),
    ("biso5", "5 mg tablet"),
    ("biso5", "Bisoprolol 0.005 g"),
    ("biso5", ""),
    ("pred5", "Prednisolone 5000 micrograms tablet"),
    ("predgr", "Prednisolone 5 mg tablets"),
    ("loshct", "Losartan 50 mg / Hydrochlorothiazide 12.5 mg tablets"),
    ("calc", "Calcium carbonate 1.5 g and colecalciferol 400 units"),
    ("codo", "Co-careldopa 25 mg/100 mg"),
    ("tams", "Tamsulosin 400microgram modified-release capsules"),
    ("tams", "Tamsulosin 0.4 mg XL capsule"),
    ("aspd", "Aspirin 75 mg dispersible tablets"),
    ("salb", "Salbutamol 100 micrograms/dose inhaler"),
]


@pytest.mark.parametrize(("code", "text"), AGREE)
def test_words_that_say_the_same_or_less_agree(code: str, text: str) -> None:
    assert WORDS.contradictions(text, MEDICINES[code]) == ()


DISAGREE = [
    ("biso5", "Bisoprolol 2.5 mg", ("strength",)),
    ("biso5", "Bisoprolol 50 mg", ("strength",)),
    ("biso5", "Bisoprolol 5 micrograms", ("strength",)),
    ("biso5", "Bisoprolol 5 mg capsules", ("form",)),
    ("biso5", "Losartan 50 mg", ("name", "strength")),
    ("pred5", "Prednisone 5 mg", ("name",)),
    ("pred5", "Prednisolone 5 mg gastro-resistant tablets", ("form",)),
    ("pred5", "Prednisolone 5 mg soluble tablets", ("form",)),
    ("los50", "Losartan with hydrochlorothiazide 50 mg", ("name",)),
    ("loshct", "Losartan 50 mg", ("name",)),
    ("loshct", "Losartan and hydrochlorothiazide 100 mg/12.5 mg", ("strength",)),
    ("calc", "Calcium citrate", ("name",)),
    ("tams", "Tamsulosin 400 mg", ("strength",)),
    ("amox", "Amoxicillin 500 mg MR capsules", ("form",)),
    ("salb", "Salbutamol 100 micrograms", ("strength",)),
]


@pytest.mark.parametrize(("code", "text", "what"), DISAGREE)
def test_words_that_say_something_else_contradict(code: str, text: str, what: tuple[str, ...]) -> None:
    assert WORDS.contradictions(text, MEDICINES[code]) == what


@given(st.sampled_from(sorted(MEDICINES)))
def test_a_medicine_agrees_with_its_own_label(code: str) -> None:
    assert WORDS.contradictions(MEDICINES[code].label, MEDICINES[code]) == ()


@given(st.sampled_from(sorted(MEDICINES)), st.sampled_from(sorted(MEDICINES)))
def test_a_medicine_never_agrees_with_the_whole_label_of_another(code: str, other: str) -> None:
    one, another = MEDICINES[code], MEDICINES[other]
    less = another.name == one.name and another.form in one.form  # "tablet" says less than "gastro-resistant tablet"
    assert (WORDS.contradictions(another.label, one) == ()) is (code == other or less)


@given(st.text())
def test_any_text_is_compared(text: str) -> None:
    assert set(WORDS.contradictions(text, MEDICINES["biso5"])) <= {"name", "strength", "form"}
