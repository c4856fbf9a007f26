"""How text is fitted, step by step as the profile allows: full form, shorter form, smaller type to the floor, further headers or numbers
for medicines, and then a stop. Never cut, never below the floor."""

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.paper.golden_sample import in_format
from tests.core.paper.paper_sample import CATALOGUE, FORMAT, MATERIAL, PERSON_PLAN, PROFILE, medicine
from tests.core.paper.sheet_reading import stops_of, text_of

from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.packing.profile import Profile, Sourced
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.page import Face, Page, Run
from dosewright.core.regimen.dosage import Amount
from dosewright.core.units.finding import Severity
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.shipped import read_shipped, shipped_names


def profile(keyed: bool = False, **rules: int | bool) -> Profile:  # noqa: FBT001, FBT002 — a builder's dull default
    """The sample's profile with these rules of paper; a cavity names its medicines in words unless `keyed` allows numbers."""
    contents = Sourced("recommended" if keyed else "required", "test", "2026", "recommended" if keyed else "required")
    made = {name: Sourced(value, "test", "2026") for name, value in rules.items()}
    return replace(PROFILE, rules={**PROFILE.rules, **made}, fields={**PROFILE.fields, "cavity.contents": contents})


def by(asked: Profile, material: Material = MATERIAL) -> Material:
    return replace(material, request=replace(material.request, profile=asked))


def long_names() -> Material:
    """The sample with names so long that five of them do not fit a label at any size."""
    catalogue = {code: replace(one, name=f"{one.name} hydrochloride monohydrate") for code, one in CATALOGUE.items()}
    return replace(MATERIAL, request=replace(MATERIAL.request, medicines=catalogue))


def cavity_runs(pages: tuple[Page, ...], words: str) -> Iterator[Run]:
    """Runs of cavity labels that begin so; a header's box is wider than any cavity's."""
    return (run for page in pages for run in page.runs if run.text.startswith(words) and run.box.width < 100)


def codes(material: Material) -> set[str]:
    return {finding.code for finding in draw_labels(PERSON_PLAN, material)[1] if finding.severity is Severity.STOP}


def test_step_one_and_two_the_full_form_where_it_fits_and_the_shorter_where_it_does_not() -> None:
    pages, _ = draw_labels(PERSON_PLAN, by(profile()))
    assert any(cavity_runs(pages, "2 tablets"))  # at noon: one medicine, in full
    said = text_of(offer_labels(by(profile())))
    assert "1 digoxin 62.5 micrograms" in said  # in the morning: five medicines


def test_a_profile_without_the_shorter_form_never_has_it() -> None:
    """Five medicines of a morning do not fit in full: then it is a stop, not the shorter form."""
    full = by(profile(short_form_in_cavity=False))
    assert codes(full) == {"paper.cavity-text-does-not-fit"}
    assert codes(by(profile())) == set()
    pages, _ = draw_labels(PERSON_PLAN, full)
    said = " ".join(run.text for run in cavity_runs(pages, ""))
    assert "2 tablets paracetamol 500 mg" in said
    assert "digoxin" not in said


def test_step_three_the_type_goes_down_to_the_larger_of_the_formats_and_the_profiles_floor() -> None:
    low = {run.size for run in cavity_runs(draw_labels(PERSON_PLAN, by(profile()))[0], "")}
    high = {run.size for run in cavity_runs(draw_labels(PERSON_PLAN, by(profile(smallest_cavity_pt=8)))[0], "") if run.floor > 7.0}
    assert min(low) < 8.0  # five medicines of a morning need it
    assert min(high) >= 8.0
    above = replace(MATERIAL, request=replace(MATERIAL.request, format=replace(FORMAT, smallest_type=Fraction(9))))
    assert by(profile(smallest_cavity_pt=8), above).smallest_in_cavity == 9.0  # the format may ask for more


def test_step_four_numbers_for_medicines_only_where_the_profile_lets_a_cavity_go_without_names() -> None:
    named, numbered = by(profile(), long_names()), by(profile(keyed=True), long_names())
    assert codes(named) == {"paper.cavity-text-does-not-fit"}
    assert codes(numbered) == set()
    said = text_of(offer_labels(numbered))
    assert re.search(r"1 tablet, medicine \d", said)
    assert re.search(r"Medicine 1: bisoprolol hydrochloride monohydrate 2.5 mg tablet", said)


def test_step_four_further_headers_only_where_the_profile_allows_them() -> None:
    allowed, forbidden = by(profile(continuation_headers=True)), by(profile(continuation_headers=False))
    assert "header 2 of" in text_of(offer_labels(allowed))
    offered = offer_labels(forbidden)
    assert stops_of(offered) == {"paper.header-needs-continuation"}
    assert offered.pdf == b""
    assert offered.left_out == (PERSON_PLAN.person,)


@pytest.mark.parametrize("points", [9, 11, 12, 14])
def test_nothing_that_matters_on_a_header_is_below_the_profiles_size(points: int) -> None:
    """USP <17> asks for 11 points sans serif: a profile may ask for it, or more, and then more headers follow."""
    pages, _ = draw_labels(PERSON_PLAN, by(profile(smallest_header_pt=points)))
    named = [
        run
        for page in pages
        for run in page.runs
        if run.box.width >= 100 and run.face is Face.BOLD and run.text.startswith(tuple(m.label for m in CATALOGUE.values()))
    ]
    assert named
    assert min(run.size for run in named) >= points
    assert len(pages) >= len(draw_labels(PERSON_PLAN, by(profile(smallest_header_pt=9)))[0])


def test_step_five_what_fits_at_no_step_stops_and_is_never_cut() -> None:
    name = "pneumonoultramicroscopicsilicovolcanoconiosin" * 2
    odd = medicine("metf", name, "500 mg")
    material = replace(MATERIAL, request=replace(MATERIAL.request, medicines={**CATALOGUE, odd.code: odd}))
    offered = offer_labels(material)
    assert offered.pdf == b""
    assert stops_of(offered) == {"paper.header-word-does-not-fit"}


@given(st.integers(7, 9), st.integers(9, 14), st.booleans())
def test_no_run_of_a_label_is_ever_below_its_profiles_floor(cavity: int, header: int, short: bool) -> None:  # noqa: FBT001 — drawn
    """For any floors a profile may set: every run stands at its floor or above, and the profile's floors are the runs' own."""
    material = by(profile(smallest_cavity_pt=cavity, smallest_header_pt=header, short_form_in_cavity=short))
    pages, _ = draw_labels(PERSON_PLAN, material)
    for page in pages:
        assert all(run.size >= run.floor for run in page.runs)
        medicines = [run for run in page.runs if run.box.width < 100 and run.floor != 7.0]
        assert all(run.floor >= cavity for run in medicines)


@pytest.mark.parametrize("file", shipped_names("profiles"))
def test_every_shipped_profile_says_each_step(file: str) -> None:
    made = parse_profile(read_shipped("profiles", file))
    assert 7 <= made.number("smallest_cavity_pt") <= 12
    assert made.number("smallest_header_pt") == (11 if file == "us.toml" else 9)  # USP <17>: 11 points sans serif
    assert made.permits("short_form_in_cavity")
    assert made.permits("continuation_headers")


def test_a_profile_that_was_written_before_keeps_what_held_then() -> None:
    text = "\n".join(
        line for line in read_shipped("profiles", "us.toml").splitlines() if not line.startswith(("smallest_", "short_", "contin"))
    )
    old = parse_profile(text)
    assert by(old).smallest_on_header == 9.0
    assert by(old).smallest_in_cavity == 7.0
    assert old.permits("continuation_headers")


@pytest.mark.parametrize("value", ["4", "25", "true", '"7"'])
def test_a_size_that_cannot_be_meant_is_refused_with_its_line(value: str) -> None:
    text = read_shipped("profiles", "us.toml").replace("smallest_cavity_pt = { value = 7,", f"smallest_cavity_pt = {{ value = {value},")
    with pytest.raises(TomlError, match="value"):
        parse_profile(text)


@pytest.mark.parametrize("name", shipped_names("profiles"))
def test_a_long_name_leaves_room_for_a_medicine_with_three_cautions(name: str) -> None:
    """A name of 43 letters took so much of the header that an ordinary medicine was refused by the profile with the largest type."""
    three = ("Take with or just after food", "May make you sleepy", "Do not stop taking this medicine unless your doctor tells you")
    week = in_format("seven-by-four.toml")
    catalogue = {code: replace(one, cautions=three) for code, one in week.request.medicines.items()}
    people = tuple(replace(one, name="Wilhelmina-Katharina Papadopoulou-Fernández") for one in week.request.people)
    much = (Amount(quantity=Quantity(Fraction(3, 2), Unit("tablet"))),)  # four times a day in full, "1 and a half tablets" is long
    orders = [replace(one, dosages=tuple(replace(each, amounts=much) for each in one.dosages)) for one in week.request.orders]
    asked = replace(week.request, orders=tuple(orders), medicines=catalogue, people=people)
    request = replace(asked, profile=parse_profile(read_shipped("profiles", name)))
    found = draw_labels(week.plan.people[0], replace(week, request=request))[1]
    assert not {finding.code for finding in found if finding.code.startswith("paper.header")}
