"""A question whose SQL is kept gives what Django's own query gives, and refuses what it could not keep."""

from datetime import date
from fractions import Fraction

import pytest
from django.db.transaction import TransactionManagementError
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.core.custody.chain import Entry
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.ledger import append_entry, load_entries, load_entries_since
from dosewright.store.models import LedgerEntry, StockLot
from dosewright.store.questions import Question
from dosewright.store.stock import find_lot, lock_lot

LOT = Question(lambda medicine, lot: StockLot.objects.filter(medicine_id=medicine, lot=lot).values_list("lot", "expiry", "in_stock"))
SOME = Question(lambda *lots: StockLot.objects.filter(lot__in=lots, in_stock="100").order_by("lot").values_list("lot"))


@pytest.mark.usefixtures("guarded")
def test_each_time_it_is_asked_it_answers_for_the_values_of_that_time() -> None:
    bench.opened()
    assert LOT.rows("bisoprolol-5", "LOT42A") == [("LOT42A", date(2027, 6, 30), "100")]
    assert LOT.rows("metformin-500", "K2207") == [("K2207", date(2027, 6, 30), "100")]
    assert LOT.one("metformin-500", "LOT42A") is None
    assert SOME.rows("LOT42A") == [("LOT42A",)]
    assert SOME.rows("LOT42A", "K2207") == [("K2207",), ("LOT42A",)]


@pytest.mark.usefixtures("guarded")
def test_moments_and_days_come_as_django_gives_them() -> None:
    for number in range(3):
        append_entry(on(minutes=number), "noted", ("card", str(number % 2)), {"half": Fraction(1, 2)})
    entries = tuple(load_entries())
    assert tuple(load_entries_since("card", {"0": 1, "1": 0})) == entries
    assert tuple(load_entries_since("card", {"0": 2})) == entries[2:]
    assert LedgerEntry.objects.values_list(*Entry.__slots__).get(sequence=1)[1] == entries[0].at == on().at


@pytest.mark.usefixtures("guarded")
@pytest.mark.parametrize("value", [True, 1.5, date(2026, 3, 2), None], ids=str)
def test_a_value_that_django_would_write_otherwise_is_refused(value: object) -> None:
    with pytest.raises(TypeError, match="text and whole numbers"):
        LOT.rows("bisoprolol-5", value)  # type: ignore[arg-type]


@pytest.mark.usefixtures("guarded")
def test_a_query_that_does_more_with_its_values_than_to_compare_them_is_refused() -> None:
    with pytest.raises(TypeError, match="more with its values"):
        Question(lambda part: StockLot.objects.filter(lot__contains=part).values_list("lot")).rows("42")


@pytest.mark.usefixtures("many_stations")
def test_rows_are_locked_within_a_transaction_only() -> None:
    bench.opened()
    assert find_lot(bench.BISOPROLOL, Lot("LOT42A")) is not None
    assert find_lot(MedicineCode("nothing"), Lot("LOT42A")) is None
    with pytest.raises(TransactionManagementError):
        lock_lot(bench.BISOPROLOL, Lot("LOT42A"))
