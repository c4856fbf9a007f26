"""What the planner is told besides the orders: how long the stock on hand keeps, and where each medicine lay last time."""

from datetime import date, timedelta

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.plan_set import draw_up_request
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.places import places_of
from dosewright.store.cards import load_request, load_set

pytestmark = pytest.mark.usefixtures("guarded")

IN_THREE_WEEKS, MIDWEEK = bench.MONDAY + timedelta(21), bench.MONDAY + timedelta(3)
NEXT_MONDAY = bench.MONDAY + timedelta(7)


def beyond_use(set_id: int) -> date:
    return load_set(set_id).cards[0].card.beyond_use


def stocked_too(expiry: date, lot: str) -> None:
    bench.must(bench.stocked(bench.BISOPROLOL, lot, expiry, 10))


def test_a_card_keeps_no_longer_than_the_lot_that_will_be_taken_first_and_can_be_filled_from_it() -> None:
    bench.opened()
    stocked_too(IN_THREE_WEEKS, "SOON")
    bench.ordered()
    set_id = bench.planned()
    assert beyond_use(set_id) == IN_THREE_WEEKS
    bench.printed(set_id)
    assert place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL, "SOON", IN_THREE_WEEKS)).done


def test_a_lot_that_ends_before_the_cycle_does_is_not_taken_and_does_not_shorten_it() -> None:
    bench.opened()
    stocked_too(MIDWEEK, "ENDS")
    bench.ordered()
    assert draw_up_request(bench.PERSON, PlanAsk(bench.MONDAY, 7), on()).expiries == {
        bench.BISOPROLOL: bench.EXPIRY,
        bench.METFORMIN: bench.EXPIRY,
    }
    assert beyond_use(bench.planned()) > MIDWEEK


def test_of_a_medicine_that_is_not_in_stock_nothing_is_known() -> None:
    bench.opened()
    bench.ordered(bench.ORDERS["RX1"].replace("bisoprolol-5", "ramipril-5").replace("tablet", "capsule"))
    assert draw_up_request(bench.PERSON, PlanAsk(bench.MONDAY, 7), on()).expiries == {}


def test_the_next_set_is_told_where_each_medicine_lay_and_the_request_is_kept_as_it_was() -> None:
    bench.opened()
    bench.ordered()
    first = load_set(bench.planned())
    assert draw_up_request(bench.PERSON, PlanAsk(bench.MONDAY, 7), on()).places == {bench.PERSON: {}}
    request = draw_up_request(bench.PERSON, PlanAsk(NEXT_MONDAY, 7), on())
    assert request.places == {bench.PERSON: places_of(first.mine)}
    assert set(request.places[bench.PERSON].values()) == {1}
    second = bench.planned(NEXT_MONDAY)
    kept = load_request(second)
    assert (kept.places, kept.expiries) == (request.places, request.expiries)
    assert fingerprint(load_set(second).plan, kept) == load_set(second).plan.basis


def test_a_set_that_was_withdrawn_says_nothing_about_places() -> None:
    bench.opened()
    bench.ordered()
    for stored in load_set(bench.planned()).cards:
        bench.must(withdraw_card(stored.number, on(Role.PHARMACIST), "planned by mistake"))
    assert draw_up_request(bench.PERSON, PlanAsk(NEXT_MONDAY, 7), on()).places == {bench.PERSON: {}}


def test_rules_of_time_apart_reach_the_planner() -> None:
    bench.opened()
    bench.ordered()
    assert "spacing.levothyroxine" in {rule.id for rule in draw_up_request(bench.PERSON, PlanAsk(bench.MONDAY, 7), on()).spacings}
