"""The card as it lies on the bench."""

from datetime import date, time, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.packing.card_format import Box, CardFormat, Cavity, LabelSheet
from dosewright.core.packing.plan_values import Card, CardColumn, Content, PackedCavity
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.web.card_map import MapCell, draw_card, glyph

MONDAY = date(2026, 3, 2)
TABLET = Content(OrderId("o1"), MedicineCode("m1"), Quantity(Fraction(1), Unit("tablet")))
TIMES = (("morning", time(8)), ("noon", time(12)), ("evening", time(18)), ("bedtime", time(22)))


def card_format(*, columns: int = 4, rows: int = 7, from_back: bool = False, roll: bool = False) -> CardFormat:
    cavity = Cavity(Fraction(30), Fraction(20), Fraction(10), Fraction(1, 2), 12)
    box = Box(Fraction(10), Fraction(10), Fraction(30), Fraction(20))
    sheet = LabelSheet(Fraction(210), Fraction(297), box, box, Fraction(30), Fraction(20), columns)
    return CardFormat("f", "F", rows, columns, roll, from_back, cavity, sheet, Fraction(7))


def card(columns: list[tuple[int, int, date]], *, days: int = 7) -> Card:
    """Columns as (column, which dosing time, first day); one tablet in each cavity."""
    heads = tuple(CardColumn(number, SlotName(TIMES[at][0]), TIMES[at][1], first) for number, at, first in columns)
    cavities = tuple(
        PackedCavity(row, head.column, head.first + timedelta(days=row - 1), head.slot, head.time, (TABLET,), Fraction(1, 10))
        for row in range(1, days + 1)
        for head in heads
    )
    last = max(cavity.day for cavity in cavities)
    return Card(CardNumber("TS-1"), heads[0].first, last, last, heads, cavities)


def test_days_go_down_and_dosing_times_across_in_the_order_of_the_card() -> None:
    drawn = draw_card(card([(1, 0, MONDAY), (2, 1, MONDAY), (3, 2, MONDAY), (4, 3, MONDAY)]), card_format())
    assert [column.slot for column in drawn.columns] == ["morning", "noon", "evening", "bedtime"]
    assert [row.day for row in drawn.rows] == [MONDAY + timedelta(days=n) for n in range(7)]
    assert all(row.dated for row in drawn.rows)


def test_a_card_that_is_filled_from_the_back_is_drawn_mirrored() -> None:
    drawn = draw_card(card([(1, 0, MONDAY), (2, 2, MONDAY)]), card_format(from_back=True))
    assert drawn.mirrored
    assert [column.slot for column in drawn.columns] == ["", "", "evening", "morning"]
    assert [[cell.column for cell in row.cells] for row in drawn.rows] == [[4, 3, 2, 1]] * 7


def test_the_same_card_is_read_with_its_labels_up() -> None:
    drawn = draw_card(card([(1, 0, MONDAY), (2, 2, MONDAY)]), card_format(from_back=True), labels_up=True)
    assert not drawn.mirrored
    assert [column.slot for column in drawn.columns] == ["morning", "evening", "", ""]


def test_columns_that_the_card_does_not_use_keep_their_place_and_are_shut() -> None:
    drawn = draw_card(card([(3, 0, MONDAY)]), card_format())
    assert [cell.open for cell in drawn.rows[0].cells] == [False, False, True, False]


def test_a_card_of_two_weeks_writes_the_date_into_each_cavity() -> None:
    later = MONDAY + timedelta(days=7)
    drawn = draw_card(card([(1, 0, MONDAY), (2, 2, MONDAY), (3, 0, later), (4, 2, later)]), card_format())
    assert not any(row.dated for row in drawn.rows)
    assert [cell.day for cell in drawn.rows[1].cells] == [date(2026, 3, 3), date(2026, 3, 3), date(2026, 3, 10), date(2026, 3, 10)]


def test_rows_after_the_last_day_are_drawn_and_not_in_use() -> None:
    drawn = draw_card(card([(1, 0, MONDAY)], days=5), card_format())
    assert [row.cells[0].open for row in drawn.rows] == [True] * 5 + [False] * 2


def test_a_roll_shows_each_pouch_once() -> None:
    days = [MONDAY + timedelta(days=n) for n in range(7)]
    at = [(day, SlotName(slot), clock) for day in days for slot, clock in (TIMES[0], TIMES[2])]
    pouches = tuple(PackedCavity(1, number, *when, (TABLET,), Fraction(1, 10)) for number, when in enumerate(at, start=1))
    heads = tuple(CardColumn(pouch.column, pouch.slot, pouch.time, pouch.day) for pouch in pouches)
    roll = Card(CardNumber("TS-2"), MONDAY, pouches[-1].day, pouches[-1].day, heads, pouches)
    drawn = draw_card(roll, card_format(rows=1, columns=14, roll=True))
    assert [column.slot for column in drawn.columns] == ["morning", "evening"]
    assert sorted(cell.column for row in drawn.rows for cell in row.cells) == list(range(1, 15))


@given(st.integers(1, 7), st.integers(1, 4), st.booleans())
def test_every_cavity_of_the_plan_is_drawn_once_with_what_is_said_of_it(days: int, columns: int, from_back: bool) -> None:  # noqa: FBT001
    planned = card([(number, number - 1, MONDAY) for number in range(1, columns + 1)], days=days)
    said = {
        (cavity.row, cavity.column): MapCell(cavity.row, cavity.column, open=True, place=f"{cavity.row}/{cavity.column}")
        for cavity in planned.cavities
    }
    drawn = draw_card(planned, card_format(from_back=from_back), said)
    cells = [cell for row in drawn.rows for cell in row.cells if cell.open]
    assert sorted(cell.place for cell in cells) == sorted(cell.place for cell in said.values())
    assert all(cell.place == f"{cell.row}/{cell.column}" for cell in cells)


GLYPHS = [("1", "1"), ("1/2", "½"), ("3/2", "1½"), ("5/4", "1¼"), ("1/3", "⅓"), ("2/5", "2/5"), ("12", "12")]


@pytest.mark.parametrize(("amount", "written"), GLYPHS)
def test_the_big_numeral_is_exact(amount: str, written: str) -> None:
    assert glyph(Fraction(amount)) == written
