"""R10, R11: of a card that came back, what was counted is returned, the rest was given; nothing is lost between them."""

from datetime import timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from tests.core.card_maker import CARD, MONDAY, RX1, card, right_units

from dosewright.core.custody.returning import destroying_movements, returning_movements
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState
from dosewright.core.rounds.left import check_counted_return, check_uncounted, part_return
from dosewright.core.supply.movement import MovementKind
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.finding import blocks

UNITS = right_units(card())
COUNTS = st.dictionaries(st.sampled_from([units.cell for units in UNITS]), st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(1)]))


def total(units: tuple[Placed, ...]) -> Fraction:
    return sum((one.amount for one in units), Fraction(0))


@given(COUNTS)
def test_returned_and_given_are_together_what_the_card_held(counted: dict[Cell, Fraction]) -> None:
    parted = part_return(UNITS, counted)
    assert total(parted.returned) + total(parted.given) == total(UNITS)
    for units in UNITS:
        back = sum((one.amount for one in parted.returned if one.cell == units.cell), Fraction(0))
        assert back == min(counted.get(units.cell, Fraction(0)), units.amount)


@given(COUNTS)
def test_more_than_went_in_is_a_stop(counted: dict[Cell, Fraction]) -> None:
    held = {units.cell: units.amount for units in UNITS}
    assert bool(check_counted_return(UNITS, counted)) is any(amount > held[cell] for cell, amount in counted.items())


DUE = {(cavity.row, cavity.column): cavity.day for cavity in card().cavities}
DAYS = {units.cell: DUE[units.cell.row, units.cell.column] for units in UNITS}


@given(COUNTS, st.integers(-1, 4))
def test_r11_only_what_is_past_may_go_uncounted(counted: dict[Cell, Fraction], passed: int) -> None:
    today = MONDAY + timedelta(days=passed)
    found = check_uncounted(UNITS, counted, DAYS, today)
    still = [cell for cell in DAYS if cell not in counted]
    assert sorted(finding.code for finding in found) == sorted(
        "rounds.taken-as-given" if DAYS[cell] < today else "rounds.not-counted" for cell in still
    )
    assert blocks(found) is any(DAYS[cell] >= today for cell in still)


def test_units_of_a_cavity_that_held_nothing_are_a_stop() -> None:
    assert [f.code for f in check_counted_return(UNITS, {Cell(CARD, 7, 4, RX1): Fraction(1)})] == ["rounds.more-returned-than-held"]


@given(COUNTS)
def test_r11_every_unit_of_a_returned_card_moves_exactly_once_and_none_to_stock(counted: dict[Cell, Fraction]) -> None:
    moves = returning_movements(CardState(CARD, stage=Stage.IN_USE, placed=UNITS), counted)
    assert {move.kind for move in moves} <= {MovementKind.RETURNED, MovementKind.GIVEN}
    assert sum(move.amount for move in moves) == total(UNITS)


def test_a_withdrawn_card_goes_to_waste_straight_and_a_returned_one_from_the_returns() -> None:
    withdrawn = destroying_movements(CardState(CARD, stage=Stage.WITHDRAWN, placed=UNITS))
    returned = destroying_movements(CardState(CARD, stage=Stage.RETURNED, placed=UNITS))
    assert {move.kind for move in withdrawn} == {MovementKind.TAKEN_TO_WASTE}
    assert {move.kind for move in returned} == {MovementKind.DESTROYED}
    assert sum(move.amount for move in withdrawn) == sum(move.amount for move in returned) == total(UNITS)
