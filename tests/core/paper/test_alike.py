"""Whose cards could be taken for whose, and that each of them gets a border of their own.

Source of the rule: coroner's report to prevent future deaths, Berkshire 2024: an 82-year-old took the spouse's pack.
"""

from collections import Counter
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.paper.paper_sample import FORMAT, MATERIAL, PERSON, PERSON_PLAN, REQUEST

from dosewright.core.paper.alike import Apart, tell_apart
from dosewright.core.paper.border import BORDER, Pattern, border_shapes
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.page import Figure, Page, Rect, Run
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.readback import check_pdf
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.core.units.person import Person

HOME = HomeId("lindens")
BORN = date(1939, 2, 4)
AT_HOME = {"home": None, "room": ""}


def somebody(number: int, name: str, *, home: HomeId | None = None, room: str = "", address: str = "") -> Person:
    return Person(PersonId(f"p{number}"), name, date(1939, 2, 4), home, room, address)


ALIKE = [
    pytest.param(somebody(1, "Ada Lovell", address="4 Mill Lane"), somebody(2, "Iris Munn", address="4, mill lane"), id="one address"),
    pytest.param(somebody(1, "Ada Lovell", home=HOME, room="12"), somebody(2, "Iris Munn", home=HOME, room="12"), id="one room"),
    pytest.param(
        somebody(1, "Ada Lovell", home=HOME, room="1"), somebody(2, "Iris Lovell", home=HOME, room="2"), id="one surname in a home"
    ),
    pytest.param(somebody(1, "Ada Lovell", home=HOME), somebody(2, "Iris Lovel", home=HOME), id="a letter less"),
    pytest.param(somebody(1, "Ada Lovell", home=HOME), somebody(2, "Iris Lavell", home=HOME), id="another letter"),
    pytest.param(somebody(1, "Ada Lovell", home=HOME), somebody(2, "Iris Lovlel", home=HOME), id="two letters changed about"),
    pytest.param(somebody(1, "Ada Müller", home=HOME), somebody(2, "MULLER, Iris", home=HOME), id="accents and order"),
    pytest.param(somebody(1, "Ada Lovell", address="1 Hill"), somebody(2, "Lovell, Ada", address="9 Quay"), id="one name, two addresses"),
]

NOT_ALIKE = [
    pytest.param(
        somebody(1, "Ada Lovell", address="4 Mill Lane"), somebody(2, "Iris Lovell", address="9 Quay"), id="one surname, two addresses"
    ),
    pytest.param(somebody(1, "Ada Lovell", home=HOME, room="1"), somebody(2, "Iris Munn", home=HOME, room="2"), id="one home"),
    pytest.param(somebody(1, "Ada Lee", home=HOME), somebody(2, "Iris Lew", home=HOME), id="short surnames that differ"),
    pytest.param(somebody(1, "Ada Lovell", home=HOME), somebody(2, "Iris Levill", home=HOME), id="two other letters"),
    pytest.param(somebody(1, "Ada Lovell"), somebody(2, "Iris Munn"), id="no address known"),
    pytest.param(somebody(1, "Ada Lovell", home=HOME), somebody(2, "Iris Munn", home=HOME), id="no room known"),
]


@pytest.mark.parametrize(("one", "other"), ALIKE)
def test_people_whose_cards_could_change_places_are_found(one: Person, other: Person) -> None:
    found = tell_apart((one, other))
    assert {who: apart.others for who, apart in found.items()} == {one.id: (other.name,), other.id: (one.name,)}
    assert found[one.id].pattern != found[other.id].pattern


@pytest.mark.parametrize(("one", "other"), NOT_ALIKE)
def test_others_are_left_alone(one: Person, other: Person) -> None:
    assert tell_apart((one, other)) == {}


PEOPLE = st.lists(
    st.builds(
        somebody,
        st.integers(0, 30),
        st.sampled_from(["Ada Lovell", "Iris Lovell", "Iris Lovel", "Tom Munn", "Jo Munn", "Ada Munro"]),
        home=st.sampled_from([HOME, HomeId("saltmarsh"), None]),
        room=st.sampled_from(["", "1", "2"]),
        address=st.sampled_from(["", "4 Mill Lane", "9 Quay"]),
    ),
    max_size=20,
    unique_by=lambda person: person.id,
)


@given(PEOPLE)
def test_nobody_has_the_border_of_somebody_alike_unless_all_are_in_use(people: list[Person]) -> None:
    """DESIGN and the coroner's report: two people who could be mixed up never have like cards."""
    found = tell_apart(people)
    for one in people:
        for other in people:
            if one is not other and len(tell_apart((one, other))) == 2:
                mine, theirs = found[one.id].pattern, found[other.id].pattern
                assert mine is None or mine != theirs
    for apart in found.values():
        assert apart.pattern is not None or len(apart.others) >= len(Pattern)


@given(PEOPLE, st.randoms())
def test_the_order_in_which_people_are_listed_changes_nothing(people: list[Person], shuffled: object) -> None:
    mixed = sorted(people, key=lambda person: (hash((person.name, str(shuffled))), person.id))
    assert tell_apart(mixed) == tell_apart(people)


def test_thirteen_alike_leave_one_without_a_border_and_say_so() -> None:
    found = tell_apart(somebody(n, f"Resident {n}", home=HOME, room="1") for n in range(len(Pattern) + 1))
    assert Counter(apart.pattern is None for apart in found.values()) == {False: len(Pattern), True: 1}


def with_border(pattern: Pattern | None, name: str = PERSON.name) -> tuple[tuple[Page, ...], list[str]]:
    request = replace(REQUEST, people=(replace(PERSON, name=name),))
    material = replace(MATERIAL, request=request, apart={PERSON.id: Apart(("Iris Okonedo-Hart",), pattern)})
    pages, findings = draw_labels(PERSON_PLAN, material)
    return pages, [finding.code for finding in findings]


def test_a_bordered_card_is_drawn_and_read_back() -> None:
    pages, codes = with_border(Pattern.CROSSES)
    assert "paper.alike" in codes
    assert all(page.figures for page in pages)
    assert check_pdf(write_pdf(pages, MATERIAL.fonts, Heading("t", "a", "p", "en")), pages, MATERIAL.fonts) == ()


def only_border(pattern: Pattern) -> Page:
    rect = Rect(10.0, 10.0, 190.0, 70.0)
    return Page(210.0, 297.0, (), figures=(Figure(border_shapes(rect, pattern), rect),))


@pytest.mark.parametrize("drawn", Pattern)
def test_another_border_than_the_persons_own_is_refused(drawn: Pattern) -> None:
    pdf = write_pdf([only_border(drawn)], MATERIAL.fonts, Heading("t", "a", "p", "en"))
    for meant in Pattern:
        codes = [finding.code for finding in check_pdf(pdf, [only_border(meant)], MATERIAL.fonts)]
        assert codes == [] if meant is drawn else "paper.figure-differs" in codes, meant  # other ink may be seen too


def test_a_border_that_was_not_drawn_is_refused() -> None:
    pages = with_border(Pattern.SQUARES)[0][:1]
    bare = (replace(pages[0], figures=()),)
    codes = {finding.code for finding in check_pdf(write_pdf(bare, MATERIAL.fonts, Heading("t", "a", "p", "en")), pages, MATERIAL.fonts)}
    assert codes == {"paper.figure-differs"}


def test_a_word_over_the_border_is_refused() -> None:
    page = with_border(Pattern.LOZENGES)[0][0]
    run = replace(page.runs[0], x=page.figures[0].box.left - 1, text="x")
    pages = (replace(page, runs=(replace(run, box=Rect(0, 0, 210, 297), size=60.0, baseline=20.0), *page.runs[1:])),)
    codes = {finding.code for finding in check_pdf(write_pdf(pages, MATERIAL.fonts, Heading("t", "a", "p", "en")), pages, MATERIAL.fonts)}
    assert "paper.text-over-figure" in codes


def name_runs(pages: tuple[Page, ...], name: str) -> list[Run]:
    top = float(FORMAT.sheet.header.top + FORMAT.sheet.header.height)
    return [run for run in pages[0].runs if run.text in name and len(run.text) > 3 and run.baseline < top and run.size > 12]


@pytest.mark.parametrize("name", ["Ann Lee", PERSON.name, "Ann Featherstonehaugh-Cholmondeley"])
def test_the_name_of_somebody_alike_is_at_eighteen_points_or_more(name: str) -> None:
    """Large print is 16 to 18 points (RNIB, ACB, from memory)."""
    pages, codes = with_border(Pattern.BARS, name)
    assert name_runs(pages, name)
    assert all(run.size >= 18 for run in name_runs(pages, name))
    assert set(codes) <= {"paper.alike", "paper.no-cautions"}


def test_somebody_alike_of_whom_only_the_name_is_known_stops() -> None:
    bare = Person(PERSON.id, PERSON.name)
    material = replace(MATERIAL, request=replace(REQUEST, people=(bare,)), apart={PERSON.id: Apart(("Iris",), Pattern.BAND)})
    assert "paper.alike-without-second-identifier" in {finding.code for finding in draw_labels(PERSON_PLAN, material)[1]}


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        pytest.param({"born": BORN}, {"born": date(1941, 5, 6)}, True, id="two dates of birth"),
        pytest.param({"born": BORN}, {"born": BORN}, True, id="twins: nothing better can be had"),
        pytest.param({}, {"born": BORN}, False, id="only the other's date of birth"),
        pytest.param({}, {}, False, id="one room, no date of birth"),
        pytest.param({"room": "12"}, {"room": "14"}, True, id="two rooms"),
        pytest.param({"room": "12"}, {"room": ""}, True, id="the other's room is not known"),
        pytest.param({"room": ""}, {"room": "14"}, False, id="only the other's room"),
        pytest.param({**AT_HOME, "address": "4 Quay Row"}, {**AT_HOME, "address": "4, Quay row"}, False, id="one address"),
        pytest.param({**AT_HOME, "address": "4 Quay Row"}, {}, True, id="at home, and in a home"),
    ],
)
def test_what_stands_besides_the_name_must_tell_it_from_the_others(one: dict[str, Any], other: dict[str, Any], *, told: bool) -> None:
    """Ann Ferris and Ann Ferris of one home: the room of both on both labels tells nobody apart."""
    alike = Person(PersonId("a"), "Ann Ferris", home=HOME, room="12")
    people = [replace(alike, **one), replace(alike, id=PersonId("b"), **other)]
    assert tell_apart(people)[PersonId("a")].told is told


def test_a_room_that_two_alike_share_does_not_do() -> None:
    bare = replace(PERSON, born=None)
    told = {PERSON.id: Apart(("Iris",), Pattern.BAND, told=False)}
    material = replace(MATERIAL, request=replace(REQUEST, people=(bare,)), apart=told)
    assert "paper.alike-without-second-identifier" in {finding.code for finding in draw_labels(PERSON_PLAN, material)[1]}


@given(st.sampled_from(list(Pattern)), st.floats(60, 250), st.floats(20, 120))
def test_a_border_keeps_to_its_edge_and_leaves_the_middle_free(pattern: Pattern, width: float, height: float) -> None:
    rect = Rect(7.0, 9.0, width, height)
    for shape in border_shapes(rect, pattern):
        for x, y in (point for contour in shape for point in contour):
            assert rect.left - 1e-6 <= x <= rect.right + 1e-6
            assert rect.top - 1e-6 <= y <= rect.bottom + 1e-6
            inside = (
                rect.left + BORDER + 1e-6 < x < rect.right - BORDER - 1e-6 and rect.top + BORDER + 1e-6 < y < rect.bottom - BORDER - 1e-6
            )
            assert not inside
