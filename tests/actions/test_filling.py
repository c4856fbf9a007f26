"""R5, R7, R11 at the bench: what counts as placed, out of which lot, and what stock says afterwards."""

from datetime import date
from fractions import Fraction

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.place_medicine import Placement, place_medicine
from dosewright.actions.receive_stock import receive_stock
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.actions.waste_units import waste_units
from dosewright.core.custody.stage import Stage
from dosewright.core.supply.account import accounts, check_accounts
from dosewright.core.supply.movement import Batch, Place
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.ids import CardNumber, Lot, OrderId
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.ledger import load_card_events, load_entries
from dosewright.store.stock import load_movements, load_stock, load_stock_by_lot

pytestmark = pytest.mark.usefixtures("guarded")


def in_stock(lot: str) -> Fraction:
    return next(stock.amount for stock in load_stock() if stock.batch.lot == lot)


def conserved() -> bool:
    return check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()


def test_seven_halves_take_four_tablets_and_the_half_that_is_left_is_waste() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.METFORMIN)))
    assert in_stock("K2207") == 96
    account = accounts(load_movements())[bench.METFORMIN, Lot("K2207")]
    assert [account.at(Place.CARD), account.at(Place.WASTE), account.received] == [Fraction(7, 2), Fraction(1, 2), Fraction(100)]
    assert conserved()
    assert bench.now(card).state.stage is Stage.FILLING


def test_lot_expiry_who_when_and_where_go_with_every_placement() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(name="R. Tamm", minutes=7), bench.placement(bench.BISOPROLOL)))
    placed = load_card_events(card)[-1]
    assert (placed.by.name, placed.at, placed.station) == ("R. Tamm", on(minutes=7).at, "bench 1")
    assert {name: placed.facts[name] for name in ("medicine", "lot", "expiry", "gtin", "reason")} == {
        "medicine": "bisoprolol-5",
        "lot": "LOT42A",
        "expiry": date(2027, 6, 30),
        "gtin": "06291041500213",
        "reason": "",
    }
    cells = placed.facts["cells"]
    assert isinstance(cells, tuple)
    assert len(cells) == 7


def wrong_placements() -> dict[str, tuple[Placement, str]]:
    right = bench.placement(bench.BISOPROLOL)
    metformin = Proof(bench.GTINS[bench.METFORMIN], bench.METFORMIN)
    return {
        "no scan and no reason": (Placement(right.medicine, right.lot, right.expiry, Proof()), "supply.no-scan"),
        "another product scanned": (Placement(right.medicine, right.lot, right.expiry, metformin), "supply.wrong-product"),
        "another product scanned, called the right one": (
            Placement(right.medicine, right.lot, right.expiry, Proof(bench.GTINS[bench.METFORMIN], bench.BISOPROLOL)),
            "supply.wrong-product",
        ),
        "a medicine that no order asks for": (bench.placement(bench.METFORMIN, cells={}), "supply.nothing-to-place"),
        "a lot never received": (bench.placement(bench.BISOPROLOL, lot="NEVER"), "custody.not-there"),
        "another expiry": (bench.placement(bench.BISOPROLOL, expiry=date(2027, 7, 31)), "supply.lot-expiry-clash"),
    }


@pytest.mark.parametrize("case", sorted(wrong_placements()))
def test_r7_what_is_not_proved_is_not_placed_and_the_attempt_is_on_record(case: str) -> None:
    set_id, card = bench.ready_to_fill()
    what, code = wrong_placements()[case]
    before = load_stock_by_lot()
    assert code in bench.refused(place_medicine(set_id, on(), what))
    assert bench.now(card).state.placed == ()
    assert load_stock_by_lot() == before
    assert list(load_entries())[-1].event == "refused"


def test_r7_a_reason_stands_where_a_code_cannot_be_scanned() -> None:
    set_id, card = bench.ready_to_fill()
    torn = Placement(bench.BISOPROLOL, Lot("LOT42A"), bench.EXPIRY, Proof(reason="the code is torn"))
    bench.must(place_medicine(set_id, on(), torn))
    assert load_card_events(card)[-1].facts["reason"] == "the code is torn"


def test_r5_a_lot_that_ends_before_a_dose_or_the_label_is_refused() -> None:
    set_id, _ = bench.ready_to_fill()
    bench.must(bench.stocked(bench.BISOPROLOL, "SHORT", date(2026, 3, 7)))
    refused = bench.refused(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL, "SHORT", date(2026, 3, 7))))
    assert refused == {"checking.after-expiry", "checking.expiry-before-beyond-use"}


def test_a_second_station_that_places_the_same_medicine_is_told_so() -> None:
    set_id, _ = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL)))
    again = place_medicine(set_id, on(name="technician two"), bench.placement(bench.BISOPROLOL))
    assert bench.refused(again) == {"supply.nothing-to-place"}
    assert in_stock("LOT42A") == 93


def test_two_lots_on_one_medicine_part_way_and_on() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(bench.stocked(bench.BISOPROLOL, "SECOND", amount=10))
    mornings = {Cell(card, row, 1, OrderId("RX1")): Fraction(1) for row in (1, 2, 3)}
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL, cells=mornings)))
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL, "SECOND")))
    lots = {(units.cell.row, units.lot) for units in bench.now(card).state.placed}
    assert lots == {(1, "LOT42A"), (2, "LOT42A"), (3, "LOT42A"), (4, "SECOND"), (5, "SECOND"), (6, "SECOND"), (7, "SECOND")}
    assert [in_stock("LOT42A"), in_stock("SECOND")] == [Fraction(97), Fraction(6)]
    assert conserved()


def test_short_stock_places_nothing_and_says_how_much_is_missing() -> None:
    set_id, _ = bench.ready_to_fill()
    bench.must(waste_units(bench.BISOPROLOL, on(), Lot("LOT42A"), Fraction(94), "spilled"))
    outcome = place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL))
    assert bench.refused(outcome) == {"supply.not-enough"}
    assert outcome.findings[0].facts == {"needed": 7, "stock": 6}


def test_a_card_with_an_open_cell_is_not_filled() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL)))
    outcome = finish_filling(card, on())
    assert bench.refused(outcome) == {"checking.cell-differs"}
    assert len(outcome.findings) == 7


def taken(card: CardNumber, row: int, to: Place, amount: Fraction = Fraction(1)) -> TakenOut:
    cells = {Cell(card, row, 1, OrderId("RX1")): amount}
    return TakenOut(bench.BISOPROLOL, Lot("LOT42A"), cells, to, "laid into the wrong row")


def test_a_unit_taken_out_is_asked_for_again_and_the_history_keeps_both() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL)))
    bench.must(take_out_medicine(card, on(), taken(card, 3, Place.STOCK)))
    assert in_stock("LOT42A") == 94
    assert len(bench.now(card).state.placed) == 6
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL)))
    assert [event.deed.value for event in load_card_events(card)[-3:]] == ["placed", "taken out", "placed"]
    assert conserved()


def test_what_is_not_there_cannot_be_taken_out() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL)))
    assert bench.refused(take_out_medicine(card, on(), taken(card, 3, Place.STOCK, Fraction(2)))) == {"supply.not-placed"}


def test_half_a_tablet_never_goes_back_into_the_bottle() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.METFORMIN)))
    (units, *_) = bench.now(card).state.placed
    half = TakenOut(bench.METFORMIN, Lot("K2207"), {units.cell: Fraction(1, 2)}, Place.STOCK, "broke")
    assert bench.refused(take_out_medicine(card, on(), half)) == {"supply.part-to-waste"}
    bench.must(take_out_medicine(card, on(), TakenOut(half.medicine, half.lot, half.cells, Place.WASTE, "broke")))
    assert conserved()


RECEIPTS = [
    pytest.param(date(2026, 3, 1), Fraction(10), "supply.expired", id="a lot that has expired"),
    pytest.param(date(2027, 1, 1), Fraction(0), "supply.no-amount", id="nothing"),
    pytest.param(date(2027, 1, 1), Fraction(1, 2), "supply.no-amount", id="half a tablet"),
]


@pytest.mark.parametrize(("expiry", "amount", "code"), RECEIPTS)
def test_what_may_not_come_into_stock(expiry: date, amount: Fraction, code: str) -> None:
    bench.opened()
    batch = Batch(expiry, Lot("NEW"), bench.BISOPROLOL)
    assert code in bench.refused(
        receive_stock(bench.BISOPROLOL, on(), batch, amount, Proof(bench.GTINS[bench.BISOPROLOL], bench.BISOPROLOL))
    )
    assert "NEW" not in {stock.batch.lot for stock in load_stock()}


def test_a_lot_that_is_known_with_another_expiry_is_not_received() -> None:
    bench.opened()
    assert bench.refused(bench.stocked(bench.BISOPROLOL, expiry=date(2027, 7, 31))) == {"supply.lot-expiry-clash"}
