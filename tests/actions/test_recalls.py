"""A lot is recalled: nothing of it comes in or is placed, and no card with it goes on, from whatever stage it was at."""

from collections.abc import Callable

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.outcome import Outcome
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.recall_lot import lift_recall, recall_lot
from dosewright.actions.release_card import release_card
from dosewright.actions.scan_bottle import Bottle, scan_bottle
from dosewright.actions.seal_card import seal_card
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.stage import Stage
from dosewright.core.supply.lots import allocate, expiries_of_next
from dosewright.core.supply.movement import Place
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import load_entries
from dosewright.store.stock import load_stock

pytestmark = pytest.mark.usefixtures("guarded")
LOT = bench.LOTS[bench.BISOPROLOL]
HELD = {"checking.lot-recalled"}


def recalled(minutes: int = 30) -> None:
    bench.must(recall_lot(bench.BISOPROLOL, on(Role.PHARMACIST, minutes=minutes), LOT, "Class 2", "another strength in some bottles"))


def full() -> CardNumber:
    """Everything is in, and nobody has said so yet."""
    set_id, card = bench.ready_to_fill()
    for medicine in (bench.BISOPROLOL, bench.METFORMIN):
        bench.must(place_medicine(set_id, on(minutes=5), bench.placement(medicine)))
    return card


NEXT: list[tuple[Callable[[], CardNumber], Callable[[CardNumber], Outcome]]] = [
    (full, lambda card: finish_filling(card, on(minutes=31))),
    (bench.filled, lambda card: check_card(card, on(Role.CHECKER, minutes=31), OwnCheck(bench.counts(card)))),
    (bench.checked, lambda card: seal_card(card, on(minutes=31))),
    (bench.sealed, lambda card: release_card(card, on(Role.PHARMACIST, minutes=31))),
    (bench.released, lambda card: hand_over_card(card, on(minutes=31), "Wilhelmina Okonedo-Hart")),
]


@pytest.mark.parametrize(("made", "goes_on"), NEXT, ids=["filled", "checked", "sealed", "released", "handed-over"])
def test_no_card_with_units_of_a_recalled_lot_goes_on(made: Callable[[], CardNumber], goes_on: Callable[[CardNumber], Outcome]) -> None:
    card = made()
    recalled()
    assert bench.refused(goes_on(card)) == HELD


def test_nothing_of_it_comes_in_is_scanned_or_placed() -> None:
    set_id, card = bench.ready_to_fill()
    recalled(minutes=1)
    assert bench.refused(bench.stocked(bench.BISOPROLOL)) == {"supply.lot-recalled"}
    bottle = Bottle(bench.BISOPROLOL, Proof(bench.GTINS[bench.BISOPROLOL], bench.BISOPROLOL), LOT, bench.EXPIRY)
    assert bench.refused(scan_bottle(card, on(minutes=5), bottle)) == {"supply.lot-recalled"}
    assert bench.refused(place_medicine(set_id, on(minutes=5), bench.placement(bench.BISOPROLOL))) == {"supply.lot-recalled"}
    stock = load_stock(bench.BISOPROLOL)
    assert allocate(stock, stock[0].amount, bench.MONDAY) == ((), stock[0].amount)
    assert expiries_of_next(stock, bench.MONDAY) == {}


def test_the_card_is_put_right_with_another_lot_and_leaves() -> None:
    card = bench.sealed()
    recalled()
    bench.must(send_back_card(card, on(Role.CHECKER, minutes=31), NearMissKind.OTHER, "a lot in it is recalled"))
    of_lot = {units.cell: units.amount for units in bench.now(card).state.placed if units.medicine == bench.BISOPROLOL}
    out = TakenOut(bench.BISOPROLOL, LOT, of_lot, Place.WASTE, "recalled")
    bench.must(take_out_medicine(card, on(minutes=32), out))
    bench.must(bench.stocked(bench.BISOPROLOL, "LOT43"))
    bench.must(place_medicine(bench.now(card).set_id, on(minutes=33), bench.placement(bench.BISOPROLOL, "LOT43")))
    bench.must(finish_filling(card, on(minutes=34)))
    bench.must(check_card(card, on(Role.CHECKER, minutes=40), OwnCheck(bench.counts(card))))
    bench.must(seal_card(card, on(minutes=41)))
    bench.must(release_card(card, on(Role.PHARMACIST, minutes=42)))
    assert bench.now(card).state.stage is Stage.RELEASED


def _lifted(why: str, minutes: int) -> Outcome:
    return lift_recall(bench.BISOPROLOL, on(Role.PHARMACIST, minutes=minutes), LOT, why)


def test_a_recall_is_lifted_with_a_reason_and_both_are_on_record() -> None:
    card = bench.sealed()
    assert bench.refused(_lifted("why not", 29)) == {"custody.not-recalled"}
    recalled()
    assert bench.refused(_lifted(" ", 31)) == {"custody.no-reason"}
    bench.must(_lifted("the maker meant another lot", 32))
    bench.must(release_card(card, on(Role.PHARMACIST, minutes=33)))
    said = [entry.event for entry in load_entries("medicine", bench.BISOPROLOL) if "recall" in entry.event]
    assert said == ["lot recalled", "recall lifted"]


def test_only_a_pharmacist_recalls_and_says_how_urgent_and_why() -> None:
    bench.opened()
    assert bench.refused(recall_lot(bench.BISOPROLOL, on(), LOT, "Class 2", "x")) == {"custody.no-right"}
    assert bench.refused(recall_lot(bench.BISOPROLOL, on(Role.PHARMACIST), LOT, " ", "x")) == {"custody.no-reason"}
