"""The person's sheet: what an 84-year-old reads. In large and giant print, in four languages, recounted against the cavities."""

from dataclasses import replace
from datetime import datetime, timedelta
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.core.paper.paper_sample import CATALOGUE, MATERIAL, ORDERS, PERSON_PLAN
from tests.core.paper.paper_strategies import materials
from tests.core.paper.sheet_reading import codes_of, pages_of, runs_of, stops_of, text_of, twice_as_much

from dosewright.core.medicines.medicine import Medicine, Shape
from dosewright.core.paper.due import due_of
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer_sheets import offer_person_sheet
from dosewright.core.paper.page import Kind
from dosewright.core.paper.person_sheet import GIANT, LARGE, PersonSheet, draw_person_sheet
from dosewright.core.paper.say import say
from dosewright.core.paper.tongues.words import TONGUES, amount_in
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.core.units.safe_text import check_safe_text

MADE = datetime(2026, 2, 26, 11, 30)  # noqa: DTZ001 — the clock on the pharmacy's wall
SHEET = PersonSheet(LARGE, "en", MADE)
SLOW = settings(deadline=None, max_examples=4, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


def with_medicine(code: str, **changes: Any) -> Material:
    """The sample with one product changed."""
    medicines = {**CATALOGUE, MedicineCode(code): replace(CATALOGUE[MedicineCode(code)], **changes)}
    return replace(MATERIAL, request=replace(MATERIAL.request, medicines=medicines))


def structured() -> Material:
    """The sample with its directions as structure, so that other languages can say them; bisoprolol only, half a tablet each morning."""
    half = Dosage(
        timing=Timing(repeat=Repeat(frequency=1, period=1, period_unit=TimeUnit.DAY, when=("MORN",))),  # type: ignore[arg-type]
        amounts=(Amount(quantity=Quantity(Fraction(1, 2), Unit("tablet"))),),
    )
    order = replace(next(one for one in ORDERS if one.id == "o-biso"), dosages=(half,), anchor=MATERIAL.request.first)
    card = PERSON_PLAN.cards[0]
    cavities = tuple(
        replace(cavity, contents=tuple(c for c in cavity.contents if c.order == "o-biso"))
        for cavity in card.cavities
        if any(c.order == "o-biso" for c in cavity.contents)
    )
    plan = replace(PERSON_PLAN, cards=(replace(card, cavities=cavities),), alongside=())
    return replace(MATERIAL, plan=replace(MATERIAL.plan, people=(plan,)), request=replace(MATERIAL.request, orders=(order,)))


def test_it_says_for_each_dosing_time_how_much_of_what_and_for_each_medicine_how_it_looks_and_is_taken() -> None:
    said = text_of(offer_person_sheet(MATERIAL, SHEET))
    assert "08:00 morning half a tablet bisoprolol 2.5 mg 1 tablet digoxin 62.5 micrograms 1 tablet metformin 500 mg" in said
    assert "3 tablets warfarin 1 mg only on: Monday 2 March, Wednesday 4 March, Friday 6 March, Sunday 8 March" in said
    assert "quetiapine 50 mg modified-release tablet Looks: peach, round, marked Q 50. How: Take 1 and a half tablets at bedtime." in said
    assert "Ask us: Tern Street Pharmacy, 01632 960 144" in said


def test_r15_what_is_not_in_the_card_is_named_with_its_directions() -> None:
    said = text_of(offer_person_sheet(MATERIAL, SHEET)).split("Not in the card")[1]
    assert "salbutamol 100 micrograms inhaler" in said
    assert "lactulose 3.35 g in 5 mL oral solution How: Take 15 mL in the evening." in said


@pytest.mark.parametrize("size", [LARGE, GIANT])
def test_nothing_that_the_person_reads_is_smaller_than_the_size_that_was_asked_for(size: float) -> None:
    pages, findings = draw_person_sheet(PERSON_PLAN, MATERIAL, replace(SHEET, size=size))
    assert findings == ()
    foot = min(line.y1 for page in pages for line in page.lines if line.y1 > 240)
    above = [run for run in runs_of(pages) if run.baseline < foot]
    assert min(run.size for run in above) == size
    assert min(run.size for run in runs_of(pages) if "Tern" in run.text) >= LARGE  # whom to ask, in the foot's first line


def test_every_dosing_time_has_its_dial() -> None:
    pages, _ = draw_person_sheet(PERSON_PLAN, MATERIAL, SHEET)
    assert [dial.at.hour for page in pages for dial in page.dials] == [8, 12, 18, 22]


def test_each_page_has_name_fingerprint_when_it_was_made_its_number_and_the_caution() -> None:
    pages = pages_of(offer_person_sheet(MATERIAL, SHEET))
    for number, text in enumerate(pages, start=1):
        assert "Wilhelmina Okonedo-Hart" in text
        assert "plan 7f3a 91c2 7f3a 91c2" in text
        assert "Made 26 February 2026, 11:30." in text
        assert f"page {number} of {len(pages)}" in text
        assert "Does not replace professional judgement" in text


def test_a_changed_look_is_said_before_anything_else_of_the_medicine() -> None:
    was = replace(CATALOGUE[MedicineCode("biso")], code=MedicineCode("old"), colour="white", shape=Shape.OVAL, mark="X 2")
    said = text_of(offer_person_sheet(MATERIAL, replace(SHEET, before={PERSON_PLAN.person: (was,)})))
    assert (
        "bisoprolol 2.5 mg tablet New look. Your 2.5 mg tablet is now yellow, round, marked B. "
        "Before, it was white, oval, marked X 2. It is the same medicine. Looks:" in said
    )


BEFORE = [
    pytest.param({}, id="the very same"),
    pytest.param({"code": MedicineCode("other"), "maker": "Other"}, id="another maker, the same looks"),
    pytest.param({"code": MedicineCode("other"), "strength": "5 mg", "colour": "white"}, id="another strength is another medicine"),
    pytest.param({"code": MedicineCode("other"), "name": "bumetanide", "colour": "white"}, id="another substance"),
    pytest.param({"colour": "", "shape": None, "mark": ""}, id="how it looked is not known"),
]


@pytest.mark.parametrize("was", BEFORE)
def test_nothing_is_said_of_looks_that_did_not_change(was: dict[str, Any]) -> None:
    old = replace(CATALOGUE[MedicineCode("biso")], **was)
    assert "New look" not in text_of(offer_person_sheet(MATERIAL, replace(SHEET, before={PERSON_PLAN.person: (old,)})))


def test_what_it_is_for_is_said_where_it_is_given() -> None:
    orders = tuple(replace(order, purpose="high blood pressure") if order.id == "o-biso" else order for order in ORDERS)
    material = replace(MATERIAL, request=replace(MATERIAL.request, orders=orders))
    assert text_of(offer_person_sheet(material, SHEET)).count("For: High blood pressure.") == 1


WORDS = {  # language → what half a tablet of bisoprolol each morning must say
    "en": "half a tablet bisoprolol 2.5 mg|08:00 morning|Take half a tablet in the morning.|born 4 February 1939|page 1 of",
    "fr": "un demi-comprimé bisoprolol 2.5 mg|08:00 matin|Prendre un demi-comprimé le matin.|4 février 1939|page 1 de",
    "es": "medio comprimido bisoprolol 2.5 mg|08:00 mañana|Tomar medio comprimido por la mañana.|4 de febrero de 1939|página 1 de",
    "de": "eine halbe Tablette bisoprolol 2.5 mg|08:00 morgens|Einnehmen: eine halbe Tablette morgens.|4. Februar 1939|Seite 1 von",
}


@pytest.mark.parametrize("lang", WORDS)
def test_in_each_language_amount_dosing_time_directions_and_dates_are_said(lang: str) -> None:
    offered = offer_person_sheet(structured(), replace(SHEET, lang=lang))
    assert stops_of(offered) == set()
    said = text_of(offered)
    for words in WORDS[lang].split("|"):
        assert words in said


@pytest.mark.parametrize("lang", ["fr", "es", "de"])
def test_directions_that_a_language_cannot_say_stop_instead_of_standing_there_in_english(lang: str) -> None:
    offered = offer_person_sheet(MATERIAL, replace(SHEET, lang=lang))
    assert "paper.not-in-that-language" in stops_of(offered)
    assert offered.pdf == b""


def test_a_caution_without_an_entry_stays_in_english_is_never_left_out_and_is_noted() -> None:
    material = structured()
    told = replace(CATALOGUE[MedicineCode("biso")], cautions=("Hum a tune after taking it",))
    material = replace(material, request=replace(material.request, medicines={**CATALOGUE, MedicineCode("biso"): told}))
    offered = offer_person_sheet(material, replace(SHEET, lang="de"))
    assert "Hum a tune after taking it." in text_of(offered)
    assert "paper.left-untranslated" in codes_of(offered)


def test_every_language_has_every_form_shape_and_colour_that_the_others_have() -> None:
    others = [tongue for tongue in TONGUES.values() if tongue.lang != "en"]
    for table in ("forms", "shapes", "colours", "cautions"):
        assert len({frozenset(getattr(tongue, table)) for tongue in others}) == 1, table


def test_no_word_of_any_language_breaks_the_safe_text_rules() -> None:
    for tongue in TONGUES.values():
        for table in (tongue.forms, tongue.shapes, tongue.colours, tongue.cautions):
            assert [words for words in table.values() if check_safe_text(words)] == [], tongue.lang


@pytest.mark.parametrize("broken", ["amount_in", "days_in", "name_in", "directions_in", "looks_in"])
def test_a_sheet_that_says_something_else_than_the_orders_is_not_printed(broken: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The renderer is broken on purpose; the recount has its own copy of each name, and works from the cavities."""
    import dosewright.core.paper.person_words as words  # noqa: PLC0415

    real = getattr(words, broken)

    def wrong(*args: Any, **named: Any) -> Any:
        said = real(*args, **named)
        return replace(said, text=said.text + " x") if broken == "looks_in" else f"{said} x"

    monkeypatch.setattr(words, broken, wrong)
    offered = offer_person_sheet(MATERIAL, SHEET)
    assert "paper.sheet-differs" in stops_of(offered)
    assert offered.pdf == b""


def test_a_dose_of_twice_as_much_is_not_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    import dosewright.core.paper.person_words as words  # noqa: PLC0415

    monkeypatch.setattr(words, "amount_in", twice_as_much(amount_in))
    assert "paper.sheet-differs" in stops_of(offer_person_sheet(MATERIAL, SHEET))


def test_a_dose_that_is_forgotten_or_on_another_day_is_not_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    import dosewright.core.paper.person_words as words  # noqa: PLC0415

    real = due_of
    monkeypatch.setattr(words, "due_of", lambda *args: tuple(due for due in real(*args) if due.slot != "noon"))
    assert "paper.sheet-lacks" in stops_of(offer_person_sheet(MATERIAL, SHEET))
    late = lambda *args: tuple(replace(d, day=d.day + timedelta(days=1)) if d.order.id == "o-warf" else d for d in real(*args))  # noqa: E731
    monkeypatch.setattr(words, "due_of", late)
    assert "paper.sheet-differs" in stops_of(offer_person_sheet(MATERIAL, SHEET))


def test_a_medicine_alongside_that_is_forgotten_is_not_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    import dosewright.core.paper.person_words as words  # noqa: PLC0415

    monkeypatch.setattr(words.PersonWords, "beside", lambda self: ())
    assert "paper.sheet-lacks" in stops_of(offer_person_sheet(MATERIAL, SHEET))


def test_a_text_higher_than_a_page_stops() -> None:
    long = "Do not stop taking this medicine unless your doctor tells you " * 60
    offered = offer_person_sheet(with_medicine("biso", cautions=(long.strip(),)), replace(SHEET, size=GIANT))
    assert stops_of(offered) == {"paper.text-does-not-fit"}
    assert offered.left_out == (PERSON_PLAN.person,)


@SLOW
@given(materials(people=1), st.sampled_from([LARGE, GIANT]), st.sampled_from(sorted(TONGUES)))
def test_for_anybody_and_any_medicines_it_is_printed_whole_and_safe(material: Material, size: float, lang: str) -> None:
    """CV-4.5; every string within its place, every amount as the plan has it: the read-back and the recount say so."""
    offered = offer_person_sheet(material, PersonSheet(size, lang, MADE))
    assert [say(f) for f in offered.findings if f.severity is Severity.STOP and f.code != "paper.not-in-that-language"] == []
    pages, _ = draw_person_sheet(material.plan.people[0], material, PersonSheet(size, lang, MADE))
    for run in runs_of(pages):
        assert run.kind is Kind.GIVEN or check_safe_text(run.text) == (), run.text
    assert bool(offered.pdf) is not bool(offered.left_out)


def test_the_same_sheet_has_the_same_bytes() -> None:
    """R18."""
    assert offer_person_sheet(MATERIAL, SHEET) == offer_person_sheet(MATERIAL, SHEET)


def test_somebody_with_nothing_in_a_card_is_told_so() -> None:
    nobody = replace(PERSON_PLAN, cards=())
    offered = offer_person_sheet(replace(MATERIAL, plan=replace(MATERIAL.plan, people=(nobody,))), SHEET)
    assert "Nothing is in the card." in text_of(offered)
    assert "salbutamol" in text_of(offered)


def test_a_medicine_of_one_name_and_strength_with_another_form_keeps_its_form_at_each_dosing_time() -> None:
    twin: Medicine = replace(CATALOGUE[MedicineCode("metf")], code=MedicineCode("metf-mr"), form="modified-release tablet")
    material = replace(MATERIAL, request=replace(MATERIAL.request, medicines={**CATALOGUE, twin.code: twin}))
    assert "1 tablet metformin 500 mg tablet" in text_of(offer_person_sheet(material, SHEET))
