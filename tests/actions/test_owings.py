"""What is wanting is owed: counted from cards and stock, shown, and settled when it is placed."""

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests import small_bench
from tests.bench_fixtures import on

from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.record_owing import record_owing
from dosewright.actions.waste_units import waste_units
from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import Batch
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import OpenCell
from dosewright.core.supply.short import short_of
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, OrderId
from dosewright.store.ledger import load_entries
from dosewright.store.models import CardSet
from dosewright.store.owings import load_owings

LAST = date(2026, 4, 27)


def cells(*amounts: Fraction) -> dict[Cell, OpenCell]:
    return {Cell(CardNumber("1"), row, 1, OrderId("o")): OpenCell(amount, LAST, LAST) for row, amount in enumerate(amounts, start=1)}


def stock(amount: int, expiry: date = LAST) -> Stock:
    return Stock(Batch(expiry, Lot(f"L{amount}"), MedicineCode("m")), Fraction(amount))


def test_halves_are_owed_as_whole_units() -> None:
    """21 halves take 11 tablets (CV-7.2): with 8 there, 3 are owed."""
    assert short_of(cells(*[Fraction(1, 2)] * 21), [stock(8)]) == 3


def test_a_lot_that_ends_before_the_card_does_not_count() -> None:
    assert short_of(cells(Fraction(2)), [stock(5, date(2026, 4, 26)), stock(1)]) == 1


@given(st.lists(st.sampled_from([Fraction(1, 2), Fraction(1), Fraction(3, 2)]), max_size=30), st.lists(st.integers(0, 9), max_size=4))
def test_what_is_owed_and_what_is_there_reach_exactly(amounts: list[Fraction], lots: list[int]) -> None:
    """Independent of the allocation: with the owed units added nothing is owed, with one fewer one is."""
    there = [Stock(Batch(LAST, Lot(f"L{number}"), MedicineCode("m")), Fraction(many)) for number, many in enumerate(lots)]
    owed = short_of(cells(*amounts), there)
    more = Batch(LAST, Lot("new"), MedicineCode("m"))
    assert short_of(cells(*amounts), [*there, Stock(more, owed)]) == 0
    if owed:
        assert short_of(cells(*amounts), [*there, Stock(more, owed - 1)]) == 1


def at_the_bench_with(units: int) -> int:
    """A printed set that needs seven tablets of bisoprolol, of which so many are in stock."""
    small_bench.ready_to_fill()
    small_bench.must(waste_units(small_bench.BISOPROLOL, on(), small_bench.LOTS[small_bench.BISOPROLOL], Fraction(100 - units), "spilled"))
    return int(CardSet.objects.get().pk)


@pytest.mark.usefixtures("guarded")
def test_what_is_wanting_is_noted_once_and_by_count_not_by_say() -> None:
    set_id = at_the_bench_with(4)
    small_bench.must(record_owing(set_id, on(), small_bench.BISOPROLOL))
    small_bench.must(record_owing(set_id, on(minutes=1), small_bench.BISOPROLOL))
    (owed,) = load_owings()
    assert (owed.amount, owed.set_id, owed.by) == (Fraction(3), set_id, "technician one")


@pytest.mark.usefixtures("guarded")
def test_nothing_is_owed_of_what_is_there() -> None:
    set_id = at_the_bench_with(7)
    assert small_bench.refused(record_owing(set_id, on(), small_bench.BISOPROLOL)) == {"supply.nothing-wanting"}
    assert load_owings() == ()


@pytest.mark.usefixtures("guarded")
def test_it_is_settled_when_all_of_it_is_placed_and_not_before() -> None:
    set_id = at_the_bench_with(4)
    small_bench.must(record_owing(set_id, on(), small_bench.BISOPROLOL))
    small_bench.must(small_bench.stocked(small_bench.BISOPROLOL, amount=10))
    what = small_bench.placement(small_bench.BISOPROLOL)
    small_bench.must(place_medicine(set_id, on(minutes=5), what))
    assert load_owings() == ()
    assert [entry.event for entry in load_entries("set", str(set_id))][-2:] == ["owing recorded", "owing settled"]
