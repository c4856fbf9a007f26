"""Earliest expiry first, and none that ends before the last day its units are to be taken (R5)."""

from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.supply.lots import Stock, allocate, expiries_of_next
from dosewright.core.supply.movement import Batch
from dosewright.core.units.ids import Lot, MedicineCode

LAST = date(2026, 3, 29)


def stock(lot: str, expiry: date, amount: int) -> Stock:
    return Stock(Batch(expiry, Lot(lot), MedicineCode("m")), Fraction(amount))


SOON, LATER, TOO_SOON = date(2026, 4, 30), date(2027, 6, 30), date(2026, 3, 28)


def test_the_lot_that_expires_first_is_taken_first() -> None:
    takes, owing = allocate([stock("B", LATER, 50), stock("A", SOON, 10)], Fraction(28), LAST)
    assert [(str(take.batch.lot), int(take.amount)) for take in takes] == [("A", 10), ("B", 18)]
    assert owing == 0


def test_a_lot_that_expires_before_the_last_day_is_left_and_the_last_day_itself_is_allowed() -> None:
    takes, owing = allocate([stock("A", TOO_SOON, 50), stock("B", LAST, 10)], Fraction(28), LAST)
    assert [(str(take.batch.lot), int(take.amount)) for take in takes] == [("B", 10)]
    assert owing == 18


@given(st.lists(st.tuples(st.dates(date(2026, 1, 1), date(2027, 1, 1)), st.integers(0, 40)), max_size=6), st.integers(0, 100))
def test_what_is_taken_and_what_is_owing_are_what_is_needed(lots: list[tuple[date, int]], need: int) -> None:
    stocks = [stock(str(number), expiry, amount) for number, (expiry, amount) in enumerate(lots)]
    takes, owing = allocate(stocks, Fraction(need), LAST)
    assert sum(take.amount for take in takes) + owing == need
    assert all(take.batch.expiry >= LAST and take.amount > 0 for take in takes)
    assert [take.batch for take in takes] == sorted(take.batch for take in takes)
    usable = sum(held.amount for held in stocks if held.batch.expiry >= LAST)
    assert owing == max(0, need - usable)


@given(st.lists(st.tuples(st.dates(date(2026, 1, 1), date(2027, 1, 1)), st.integers(0, 40)), max_size=6), st.integers(1, 100))
def test_cards_reckon_with_the_expiry_of_the_lot_that_is_taken_first(lots: list[tuple[date, int]], need: int) -> None:
    stocks = [stock(str(number), expiry, amount) for number, (expiry, amount) in enumerate(lots)]
    takes, _ = allocate(stocks, Fraction(need), LAST)
    assert list(expiries_of_next(stocks, LAST).values()) == [take.batch.expiry for take in takes[:1]]
