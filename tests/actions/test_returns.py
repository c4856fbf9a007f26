"""R10, R11: what comes back is never stock again, and at every moment every unit is somewhere."""

from dataclasses import replace
from fractions import Fraction

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import actor, on

from dosewright.actions.destroy_card import destroy_card
from dosewright.actions.receive_card import receive_card
from dosewright.actions.take_return import take_return
from dosewright.actions.waste_units import waste_units
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.core.custody.event import Occasion, Role
from dosewright.core.custody.stage import Stage
from dosewright.core.supply.account import accounts, check_accounts
from dosewright.core.supply.movement import Place
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import CardNumber, Lot, OrderId
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.stock import load_movements, load_stock_by_lot

pytestmark = pytest.mark.usefixtures("guarded")
KEY = (bench.BISOPROLOL, Lot("LOT42A"))


def where() -> dict[Place, Fraction]:
    assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()
    account = accounts(load_movements())[KEY]
    assert account.received == 100
    return {place: account.at(place) for place in (Place.STOCK, Place.CARD, Place.GIVEN, Place.RETURNED, Place.WASTE) if account.at(place)}


SATURDAY, AFTERWARDS = on(minutes=5 * 24 * 60), on(minutes=7 * 24 * 60)


def others(card: CardNumber) -> dict[Cell, Fraction]:
    """The cavities of the other medicine, all of them counted and empty."""
    return {units.cell: Fraction(0) for units in bench.now(card).state.placed if units.cell.order != OrderId("RX1")}


def left(card: CardNumber, rows: tuple[int, ...]) -> dict[Cell, Fraction]:
    return {Cell(card, row, 1, OrderId("RX1")): Fraction(1) for row in rows}


def test_r10_r11_a_returned_card_ends_as_waste_and_stock_never_hears_of_it() -> None:
    card = bench.handed_over()
    assert where() == {Place.STOCK: 93, Place.CARD: 7}
    bench.must(take_return(card, SATURDAY, left(card, (6, 7)) | others(card)))
    assert where() == {Place.STOCK: 93, Place.GIVEN: 5, Place.RETURNED: 2}
    bench.must(destroy_card(card, on(), "came back", "A. Lindqvist"))
    assert where() == {Place.STOCK: 93, Place.GIVEN: 5, Place.WASTE: 2}
    assert bench.now(card).state.stage is Stage.DESTROYED


def test_r11_what_is_not_due_yet_is_never_taken_as_given_uncounted() -> None:
    card = bench.handed_over()
    outcome = take_return(card, SATURDAY, left(card, (7,)) | others(card))
    assert bench.refused(outcome) == {"rounds.not-counted", "rounds.taken-as-given"}
    assert [finding.where["row"] for finding in outcome.findings if finding.severity is Severity.STOP] == [6]
    assert where() == {Place.STOCK: 93, Place.CARD: 7}


def test_r11_an_empty_cavity_is_counted_as_nothing() -> None:
    card = bench.handed_over()
    counted = left(card, (1, 2, 3, 4, 5, 6)) | others(card)
    assert bench.refused(take_return(card, on(), counted)) == {"rounds.not-counted"}
    bench.must(take_return(card, on(), {**counted, Cell(card, 7, 1, OrderId("RX1")): Fraction(0)}))
    assert where() == {Place.STOCK: 93, Place.GIVEN: 1, Place.RETURNED: 6}


def test_days_that_are_past_are_taken_as_given_and_that_is_said() -> None:
    card = bench.handed_over()
    outcome = bench.must(take_return(card, SATURDAY, left(card, (6, 7)) | others(card)))
    assert [(finding.code, finding.where["row"]) for finding in outcome.findings] == [("rounds.taken-as-given", row) for row in range(1, 6)]


def test_a_withdrawn_card_holds_its_units_until_they_are_destroyed() -> None:
    card = bench.sealed()
    bench.must(withdraw_card(card, on(Role.PHARMACIST), "the person died"))
    assert where() == {Place.STOCK: 93, Place.CARD: 7}
    bench.must(destroy_card(card, on(), "withdrawn", "A. Lindqvist"))
    assert where() == {Place.STOCK: 93, Place.WASTE: 7}


def test_more_than_went_in_does_not_come_back() -> None:
    card = bench.handed_over()
    too_many = {**left(card, (2, 3, 4, 5, 6, 7)), **others(card), Cell(card, 1, 1, OrderId("RX1")): Fraction(2)}
    assert bench.refused(take_return(card, on(), too_many)) == {"rounds.more-returned-than-held"}
    assert where() == {Place.STOCK: 93, Place.CARD: 7}


def test_a_card_that_never_left_does_not_come_back() -> None:
    card = bench.released()
    assert "custody.wrong-stage" in bench.refused(take_return(card, on(), {}))


def test_destroying_needs_a_reason_and_a_witness() -> None:
    card = bench.handed_over()
    bench.must(take_return(card, AFTERWARDS, {}))
    assert bench.refused(destroy_card(card, on(), "", " ")) == {"custody.no-reason", "custody.nobody-named"}


def test_units_are_wasted_from_stock_with_a_reason_and_no_more_than_there_are() -> None:
    bench.opened()
    bench.must(waste_units(bench.BISOPROLOL, on(), Lot("LOT42A"), Fraction(3), "spilled"))
    assert where() == {Place.STOCK: 97, Place.WASTE: 3}
    assert bench.refused(waste_units(bench.BISOPROLOL, on(), Lot("LOT42A"), Fraction(98), "spilled")) == {"supply.not-enough"}
    assert bench.refused(waste_units(bench.BISOPROLOL, on(), Lot("LOT42A"), Fraction(1), "")) == {"custody.no-reason"}


def test_a_card_is_withdrawn_by_a_pharmacist_only() -> None:
    card = bench.sealed()
    assert bench.refused(withdraw_card(card, on(), "x")) == {"custody.no-right"}


def test_r14_a_card_is_received_by_the_people_of_its_home_and_by_no_others() -> None:
    card = bench.handed_over()
    assert bench.refused(receive_card(card, carer("saltmarsh"))) == {"custody.other-home"}
    bench.must(receive_card(card, on(Role.DRIVER)))
    assert bench.now(card).state.stage is Stage.RECEIVED


def carer(home: str) -> Occasion:
    return replace(on(Role.CARER), by=actor(Role.CARER, home=home))
