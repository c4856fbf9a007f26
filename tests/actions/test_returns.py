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


def left(card: CardNumber, rows: tuple[int, ...]) -> dict[Cell, Fraction]:
    return {Cell(card, row, 1, OrderId("RX1")): Fraction(1) for row in rows}


def test_r10_r11_a_returned_card_ends_as_waste_and_stock_never_hears_of_it() -> None:
    card = bench.handed_over()
    assert where() == {Place.STOCK: 93, Place.CARD: 7}
    bench.must(take_return(card, on(), left(card, (6, 7))))
    assert where() == {Place.STOCK: 93, Place.GIVEN: 5, Place.RETURNED: 2}
    bench.must(destroy_card(card, on(), "came back", "A. Lindqvist"))
    assert where() == {Place.STOCK: 93, Place.GIVEN: 5, Place.WASTE: 2}
    assert bench.now(card).state.stage is Stage.DESTROYED


def test_a_withdrawn_card_holds_its_units_until_they_are_destroyed() -> None:
    card = bench.sealed()
    bench.must(withdraw_card(card, on(Role.PHARMACIST), "the person died"))
    assert where() == {Place.STOCK: 93, Place.CARD: 7}
    bench.must(destroy_card(card, on(), "withdrawn", "A. Lindqvist"))
    assert where() == {Place.STOCK: 93, Place.WASTE: 7}


def test_more_than_went_in_does_not_come_back() -> None:
    card = bench.handed_over()
    too_many = {Cell(card, 1, 1, OrderId("RX1")): Fraction(2)}
    assert bench.refused(take_return(card, on(), too_many)) == {"rounds.more-returned-than-held"}
    assert where() == {Place.STOCK: 93, Place.CARD: 7}


def test_a_card_that_never_left_does_not_come_back() -> None:
    card = bench.released()
    assert bench.refused(take_return(card, on(), {})) == {"custody.wrong-stage"}


def test_destroying_needs_a_reason_and_a_witness() -> None:
    card = bench.handed_over()
    bench.must(take_return(card, on(), {}))
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
