"""R10: no unit that has left the pharmacy comes back into stock. The ways that units can go are one table."""

from fractions import Fraction

import pytest

from dosewright.core.supply.movement import ROUTES, Movement, MovementKind, Place
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode


def test_there_is_no_way_back_into_stock_from_anything_that_was_given_returned_or_wasted() -> None:
    into_stock = {ROUTES[kind][0] for kind in MovementKind if ROUTES[kind][1] is Place.STOCK}
    assert into_stock == {Place.OUTSIDE, Place.CARD}
    assert [kind for kind in MovementKind if ROUTES[kind] == (Place.CARD, Place.STOCK)] == [MovementKind.PUT_BACK]


def test_over_any_number_of_steps_what_was_given_or_returned_ends_as_waste_or_stays() -> None:
    ends = {Place.GIVEN, Place.RETURNED}
    for _ in MovementKind:
        ends |= {to for source, to in ROUTES.values() if source in ends}
    assert ends == {Place.GIVEN, Place.RETURNED, Place.WASTE}


@pytest.mark.parametrize("kind", MovementKind)
def test_a_movement_names_a_card_exactly_where_one_is_part_of_the_way(kind: MovementKind) -> None:
    needs_card = Place.CARD in ROUTES[kind]
    right, wrong = (CardNumber("1"), None) if needs_card else (None, CardNumber("1"))
    assert Movement(kind, MedicineCode("m"), Lot("L"), Fraction(1), right).card == right
    with pytest.raises(ValueError, match="card"):
        Movement(kind, MedicineCode("m"), Lot("L"), Fraction(1), wrong)


@pytest.mark.parametrize("amount", [Fraction(0), Fraction(-1)])
def test_nothing_or_less_does_not_move(amount: Fraction) -> None:
    with pytest.raises(ValueError, match="amount"):
        Movement(MovementKind.RECEIVED, MedicineCode("m"), Lot("L"), amount)
