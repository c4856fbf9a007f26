"""A change concerns the days of the cards that exist: days before the first of them and after the last are another set's to hold."""

from datetime import date, time, timedelta

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.decide_change import Decided, decide_change
from dosewright.actions.finish_change import finish_change
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.lay_out_change import Gathered, gather, shown_as
from dosewright.actions.plan_set import plan_set
from dosewright.actions.receive_card import receive_card
from dosewright.actions.stop_order import stop_order
from dosewright.core.custody.changing import Deciding
from dosewright.core.custody.event import Occasion, Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.rework.choices import ChoiceName
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import load_set
from dosewright.store.changes import load_change
from dosewright.store.models import ChangeRow

pytestmark = pytest.mark.usefixtures("guarded")
NEXT_MONDAY = date(2026, 3, 9)
A_DAY = 24 * 60  # minutes


def pharmacist(days: int) -> Occasion:
    """So many days after the first Monday, at nine."""
    return on(Role.PHARMACIST, minutes=days * A_DAY)


def look(days: int) -> Gathered:
    """The change as it is laid out then."""
    return gather(load_change(ChangeRow.objects.latest("pk").pk), pharmacist(days))


def test_r1_when_the_days_of_every_card_are_past_no_card_is_made_and_the_next_cycle_has_each_dose_once() -> None:
    card = bench.released()
    bench.must(hand_over_card(card, on(minutes=60), "Wilhelmina Okonedo-Hart"))
    bench.must(receive_card(card, on(Role.DRIVER, minutes=90)))
    bench.must(stop_order(OrderId("RX1"), pharmacist(2), Moment(date(2026, 3, 5), time(8)), "the heart rate fell"))
    assert bench.now(card).state.out_of_date
    # when nobody decided while the card was in use, and it was never brought back
    found = look(days=7)
    assert found.layout.choices == ()
    assert found.layout.laid == ()
    # then the change comes to its end all the same, and the new cycle is free to be planned, without what was stopped
    said = Decided(Deciding("the week is over", {}, shown_as(found)))
    bench.must(decide_change(found.change.id, pharmacist(7), said))
    assert not bench.now(card).state.out_of_date
    bench.must(finish_change(found.change.id, pharmacist(7)))
    planned = bench.must(plan_set(bench.PERSON, pharmacist(7), PlanAsk(NEXT_MONDAY, 7)))
    laid = [x.medicine for one in load_set(int(planned.made[0])).cards for c in one.card.cavities for x in c.contents]
    assert laid == [bench.METFORMIN] * 7


def test_cards_that_begin_next_week_are_put_right_one_by_one_and_this_week_is_not_theirs() -> None:
    bench.opened()
    bench.ordered()
    bench.planned(first=NEXT_MONDAY, days=28)
    bench.must(stop_order(OrderId("RX1"), pharmacist(0), Moment(NEXT_MONDAY + timedelta(days=9), time(8)), "the heart rate fell"))
    layout = look(days=0).layout
    assert {choice.name for choice in layout.chosen} == {ChoiceName.OPEN}
    assert {laid.card.first for choice in layout.choices for laid in choice.laid} == {NEXT_MONDAY, NEXT_MONDAY + timedelta(days=14)}
