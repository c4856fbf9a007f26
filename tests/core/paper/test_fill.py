"""Fill sheets: what to fetch, where it goes, what is in already, and the card as it lies on the bench."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.paper.paper_sample import CARD, MATERIAL, PERSON_PLAN, REQUEST

from dosewright.core.paper import fill, fill_map
from dosewright.core.paper.fetch import already_in, fetches, pieces, whole_units
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer import offer_fill
from dosewright.core.paper.page import Page, Rect, Run, Stroke
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.ids import CardNumber, MedicineCode


def text_of(pages: Sequence[Page]) -> str:
    return " ".join(run.text for page in pages for run in page.runs)


WHOLE = [
    ([Fraction(1, 2)] * 20, 10),
    ([Fraction(1, 2)] * 21, 11),
    ([Fraction(3, 2)] * 7, 11),
    ([Fraction(1, 4)] * 5, 2),
    ([Fraction(2)] * 7, 14),
]


@pytest.mark.parametrize(("amounts", "units"), WHOLE, ids=["CV-7.2 20 halves", "CV-7.2 21 halves", "one and a half", "quarters", "whole"])
def test_parts_are_cut_from_whole_units(amounts: list[Fraction], units: int) -> None:
    assert whole_units(amounts) == units


@given(st.lists(st.fractions(min_value="1/4", max_value=4, max_denominator=4), min_size=1, max_size=40))
def test_no_less_is_fetched_than_is_placed_and_less_than_one_unit_is_left(amounts: list[Fraction]) -> None:
    assert 0 <= whole_units(amounts) - sum(amounts) < 1


def test_every_medicine_is_fetched_once_for_the_whole_set() -> None:
    second = replace(CARD, number=CardNumber("TS-20418"))
    fetched = fetches(replace(PERSON_PLAN, cards=(CARD, second)), MATERIAL)
    assert [fetch.medicine.name for fetch in fetched] == [
        "bisoprolol",
        "digoxin",
        "metformin",
        "omeprazole",
        "paracetamol",
        "quetiapine",
        "warfarin",
    ]
    assert {fetch.medicine.code: fetch.whole for fetch in fetched} == {
        "biso": 7,  # 14 halves
        "digo": 14,
        "metf": 28,
        "omep": 14,
        "para": 112,
        "quet": 21,  # 14 times one and a half
        "warf": 24,
    }
    assert [[card.number for card, _ in fetch.cards] for fetch in fetched] == [["TS-20417", "TS-20418"]] * 7


def test_what_is_in_already_is_what_was_placed_before() -> None:
    fetched = fetches(PERSON_PLAN, MATERIAL)
    for n in range(len(fetched) + 1):
        expected: dict[tuple[int, int], int] = {}
        for fetch in fetched[:n]:
            for cavity in CARD.cavities:
                for content in cavity.contents:
                    if content.medicine == fetch.medicine.code:
                        place = (cavity.row, cavity.column)
                        expected[place] = expected.get(place, 0) + pieces(content.quantity.count)
        assert already_in(fetched, n, CARD.number) == expected


def test_the_sheet_says_what_to_fetch_to_cut_and_what_is_left_over() -> None:
    text = text_of(draw_fill(PERSON_PLAN, MATERIAL)[0])
    assert "Fetch 4 tablets. Cut for 7 cavities, half a tablet left over." in text
    assert "In this card: 3 and a half tablets as 7 pieces in 7 cavities." in text
    assert "Fetch 11 tablets. Cut for 7 cavities, half a tablet left over." in text
    assert "10 and a half tablets as 14 pieces in 7 cavities." in text
    assert "Fetch 7 capsules." in text


def test_look_alikes_in_the_set_are_named_on_both_sheets() -> None:
    """CV-2.4: metformin and paracetamol are both long, white and unmarked."""
    text = text_of(draw_fill(PERSON_PLAN, MATERIAL)[0])
    assert text.count("Looks like another medicine of this set:") == 2
    assert "Looks like another medicine of this set: paracetamol 500 mg tablet; keep its bottle closed." in text
    assert "Looks like another medicine of this set: metformin 500 mg tablet; keep its bottle closed." in text


def test_so_many_look_alikes_that_a_block_has_no_room_are_counted() -> None:
    """Forty white round tablets: as many whole names as there is room for, and how many more. Refused, nobody could fill the set."""
    fetch = next(fetch for fetch in fetches(PERSON_PLAN, MATERIAL) if fetch.alike)
    names = [f"Medicine number {n:02d}" for n in range(39)]
    many = tuple(replace(fetch.medicine, code=MedicineCode(name), name=name) for name in names)
    block = next(block for block in fill._blocks(PERSON_PLAN, MATERIAL) if block.fetch.medicine == fetch.medicine)
    place = Rect(0, 0, 58, 79)
    drawn = fill._set_block(replace(block, fetch=replace(fetch, alike=many)), place, REQUEST.people[0], MATERIAL)
    assert not drawn.findings
    text = " ".join(run.text for run in drawn.runs).replace("\xa0", " ")
    assert "Looks like 39 other medicines of this set:" in text
    shown = text.count("Medicine number")
    assert 3 <= shown < 39
    assert f"and {39 - shown} more; keep their bottles closed." in text


def test_cards_that_take_a_medicine_alike_share_one_map_and_are_all_named() -> None:
    later = [replace(CARD, number=CardNumber(f"TS-2042{n}"), first=CARD.first + timedelta(days=7 * n)) for n in (1, 2)]
    later = [replace(card, columns=tuple(replace(c, first=card.first) for c in card.columns)) for card in later]
    without = replace(later[1], cavities=tuple(c for c in later[1].cavities if c.row > 1))
    plan = replace(PERSON_PLAN, cards=(CARD, later[0], without))
    text = text_of(draw_fill(plan, replace(MATERIAL, plan=replace(MATERIAL.plan, people=(plan,))))[0])
    assert (
        "In each of these 2 cards: 3 and a half tablets as 7 pieces in 7 cavities. TS-20417, 1 of 3, from Mon 2 Mar TS-20421, 2 of 3"
        in text
    )
    assert "Fetch 10 tablets. Cut for 20 cavities, nothing left over." in text
    assert "From the 10 tablets fetched. In this card: 3 tablets as 6 pieces in 6 cavities." in text
    assert "TS-20422, 3 of 3, from Mon 16 Mar" in text


def cells(material: Material, number: int = 0) -> dict[tuple[int, int], list[str]]:
    """The cavities to fill with the medicine in that place, as (column from the left, row) from 1, and what is written in each."""
    page = draw_fill(PERSON_PLAN, material)[0][number // 3]
    places = [place for place in page.places if place.radius == 1.2][number % 3 * 28 : number % 3 * 28 + 28]
    lefts, tops = (sorted({round(getattr(place.rect, edge), 3) for place in places}) for edge in ("left", "top"))
    found = {}
    for place in places:
        if place.stroke is Stroke.HEAVY:
            inside = [run.text for run in page.runs if _in(run, place.rect)]
            found[lefts.index(round(place.rect.left, 3)) + 1, tops.index(round(place.rect.top, 3)) + 1] = inside
    return found


def _in(run: Run, rect: Rect) -> bool:
    return rect.left <= run.x < rect.right and rect.top <= run.baseline <= rect.bottom


def test_the_map_shows_what_to_place_and_what_is_in() -> None:
    assert cells(MATERIAL) == {(1, row): ["half"] for row in range(1, 8)}
    assert cells(MATERIAL, 1) == {(1, row): ["1", "1 in"] for row in range(1, 8)}
    assert cells(MATERIAL, 5) == {(4, row): ["1 and a half", "2 in"] for row in range(1, 8)}
    assert cells(MATERIAL, 6) == {(3, row): ["3", "3 in"] for row in (1, 3, 5, 7)}


def test_a_card_filled_from_the_back_is_drawn_mirrored_and_says_so() -> None:
    form = replace(REQUEST.format, filled_from_back=True)
    material = replace(MATERIAL, request=replace(REQUEST, format=form))
    assert cells(material) == {(4, row): ["half"] for row in range(1, 8)}
    assert cells(material, 5) == {(1, row): ["1 and a half", "2 in"] for row in range(1, 8)}
    text = text_of(draw_fill(PERSON_PLAN, material)[0])
    assert "left and right are exchanged" in text
    assert "left and right are exchanged" not in text_of(draw_fill(PERSON_PLAN, MATERIAL)[0])


def test_the_dosing_times_stand_above_their_own_columns_in_a_mirrored_map() -> None:
    form = replace(REQUEST.format, filled_from_back=True)
    page = draw_fill(PERSON_PLAN, replace(MATERIAL, request=replace(REQUEST, format=form)))[0][0]
    heads = sorted(
        (run.x, run.text) for run in page.runs[:200] if run.text in ("morning", "noon", "evening", "bedtime") and run.baseline < 60
    )
    assert [text for _, text in heads] == ["bedtime", "evening", "noon", "morning"]


def test_somebody_without_a_card_has_no_fill_sheet() -> None:
    assert draw_fill(replace(PERSON_PLAN, cards=()), MATERIAL) == ((), ())


def test_a_card_of_several_weeks_says_from_when_each_column_runs() -> None:
    """One dosing time of four weeks on one card: rows are weekdays, columns are weeks; even where a dose is split over two columns."""
    starts = [CARD.first + timedelta(days=7 * n) for n in range(4)]
    columns = tuple(replace(CARD.columns[0], column=n, first=first, part=1, parts=2) for n, first in enumerate(starts, start=1))
    content = CARD.cavities[0].contents[:1]
    cavities = tuple(
        replace(CARD.cavities[0], row=row, column=column.column, day=column.first + timedelta(days=row - 1), contents=content)
        for row in range(1, 8)
        for column in columns
    )
    card = replace(CARD, columns=columns, cavities=cavities, last=starts[-1] + timedelta(days=6))
    pages, findings = draw_fill(replace(PERSON_PLAN, cards=(card,)), MATERIAL)
    assert findings == ()
    text = text_of(pages)
    assert all(f"08:00 morning 1 of 2 from {first}" in text for first in ("2 Mar", "9 Mar", "16 Mar", "23 Mar"))
    assert "Wednesday" in text


def test_a_fill_map_that_says_another_amount_is_not_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The renderer is broken on purpose; the recount adds up the cavities."""
    monkeypatch.setattr(fill_map, "format_count", lambda count: format_count(2 * count))
    assert {f.code for f in offer_fill(MATERIAL).findings} >= {"paper.sheet-differs"}
    assert offer_fill(MATERIAL).pdf == b""


def test_a_fill_map_that_forgets_a_medicine_is_not_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fill, "fetches", lambda *args: fetches(*args)[1:])
    assert {f.code for f in offer_fill(MATERIAL).findings} >= {"paper.sheet-lacks"}
    assert offer_fill(MATERIAL).pdf == b""
