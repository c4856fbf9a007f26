"""Several stations at once, in real transactions: nothing is placed twice, nothing is lost, nobody waits for ever, the ledger holds."""

import json
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction

import pytest
from django.db import connection
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.outcome import Outcome, done
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.release_card import release_card
from dosewright.actions.stop_order import stop_order
from dosewright.actions.waste_units import waste_units
from dosewright.core.custody.event import Deed, Role
from dosewright.core.supply.account import check_accounts
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import Lot, OrderId
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.dump import dump_store, verify_dump
from dosewright.store.ledger import check_ledger, load_card_events, load_entries
from dosewright.store.stock import load_movements, load_stock, load_stock_by_lot

pytestmark = pytest.mark.usefixtures("many_stations")
STATIONS = 8


def at_once(*works: Callable[[], Outcome]) -> list[Outcome]:
    """Each in a thread and a connection of its own, all beginning together."""
    gate = threading.Barrier(len(works), timeout=20)

    def run(work: Callable[[], Outcome]) -> Outcome:
        try:
            gate.wait()
            return work()
        finally:
            connection.close()

    with ThreadPoolExecutor(len(works)) as pool:
        return [future.result(timeout=60) for future in [pool.submit(run, work) for work in works]]


def sound() -> None:
    """The ledger holds and every unit is somewhere."""
    assert check_ledger() == ()
    assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()


def test_of_stations_that_place_the_same_medicine_at_once_one_does_and_the_others_are_told() -> None:
    set_id, card = bench.ready_to_fill()
    works = [lambda n=n: place_medicine(set_id, on(name=f"technician {n}"), bench.placement(bench.BISOPROLOL)) for n in range(STATIONS)]
    outcomes = at_once(*works)
    assert [outcome.done for outcome in outcomes].count(True) == 1
    assert {code for outcome in outcomes if not outcome.done for code in bench.codes(outcome)} == {"supply.nothing-to-place"}
    assert [event.deed for event in load_card_events(card)].count(Deed.PLACED) == 1
    sound()


def test_a_form_that_is_sent_by_many_clicks_at_once_is_done_once() -> None:
    bench.opened()
    click = lambda: waste_units(bench.BISOPROLOL, on(token="form 1"), Lot("LOT42A"), Fraction(1), "spilled")  # noqa: E731
    outcomes = at_once(*[click] * STATIONS)
    assert all(outcome.done for outcome in outcomes)
    assert {stock.amount for stock in load_stock(bench.BISOPROLOL)} == {99}
    sound()


def test_stations_that_draw_on_one_lot_at_once_never_draw_the_same_unit() -> None:
    bench.opened()
    works = [
        lambda n=n: waste_units(bench.BISOPROLOL, on(name=f"technician {n}"), Lot("LOT42A"), Fraction(30), "spilled")
        for n in range(STATIONS)
    ]
    outcomes = at_once(*works)
    assert [outcome.done for outcome in outcomes].count(True) == 3
    assert {stock.amount for stock in load_stock(bench.BISOPROLOL)} == {10}
    sound()


def test_r9_an_order_stopped_while_the_card_is_released_never_leaves_a_released_card_unmarked() -> None:
    card = bench.sealed()
    at_once(
        lambda: release_card(card, on(Role.PHARMACIST, minutes=30)),
        lambda: stop_order(OrderId("RX1"), on(Role.PHARMACIST, "pharmacist two", minutes=30), Moment(bench.MONDAY), "stopped"),
    )
    assert bench.now(card).state.out_of_date
    sound()


def test_a_backup_that_is_written_while_others_work_is_of_one_moment() -> None:
    bench.opened()
    lines: list[bytes] = []

    def back_up() -> Outcome:
        lines.extend(dump_store())
        return done()

    def work(station: int) -> Outcome:
        outcomes = [waste_units(bench.BISOPROLOL, on(name=f"technician {station}"), Lot("LOT42A"), Fraction(1), "x") for _ in range(8)]
        return outcomes[-1]

    at_once(back_up, *[lambda station=station: work(station) for station in range(4)])
    head = verify_dump(lines)
    rows = [json.loads(line) for line in lines[1:-1]]
    assert [row["row"]["sequence"] for row in rows if row["model"] == "LedgerEntry"] == list(range(1, head.sequence + 1))
    assert max(row["row"]["entry"] for row in rows if row["model"] == "StockMovement") <= head.sequence
    wasted = sum(row["row"]["kind"] == "spoiled" for row in rows if row["model"] == "StockMovement")
    (lot,) = (row["row"]["in_stock"] for row in rows if row["model"] == "StockLot" and row["row"]["lot"] == "LOT42A")
    assert int(lot) == 100 - wasted


def test_many_steps_of_many_stations_stand_in_the_ledger_one_after_the_other() -> None:
    bench.opened()
    before = len(list(load_entries()))

    def work(station: int) -> Outcome:
        outcomes = [
            waste_units(bench.BISOPROLOL, on(name=f"technician {station}"), Lot("LOT42A"), Fraction(1), f"step {step}") for step in range(6)
        ]
        assert all(outcome.done for outcome in outcomes)
        return outcomes[-1]

    at_once(*[lambda station=station: work(station) for station in range(STATIONS)])
    assert len(list(load_entries())) == before + 6 * STATIONS
    sound()
