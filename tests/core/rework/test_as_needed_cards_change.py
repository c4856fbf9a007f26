"""Cards for as-needed medicines when orders change (R17): not put right by themselves, marked, and said to be left; never in two places."""

from dataclasses import replace
from datetime import time, timedelta
from fractions import Fraction

import pytest
from tests.core.packing.makers import IRIS, MONDAY, dosage, medicine, order, plan_of, profile, request

from dosewright.core.interop.card_state_json import cards_as_planned
from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper.say import say
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.rework.layout import lay_out
from dosewright.core.rework.on_demand import check_on_demand
from dosewright.core.rework.plan_after import plan_after
from dosewright.core.rework.situation import Situation
from dosewright.core.rework.touched import Change, touched
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment
from dosewright.core.units.ids import OrderId
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.shipped import read_shipped

ALPHA, BETA = medicine("Alpha"), medicine("Beta")
AT = Moment(MONDAY + timedelta(days=2), time(12))


def needed(count: int) -> Dosage:
    repeat = Repeat(frequency=4, period=Fraction(1), period_unit=TimeUnit.DAY)
    return Dosage(timing=Timing(repeat=repeat), as_needed=True, amounts=(Amount(quantity=Quantity(Fraction(count), Unit("tablet"))),))


DAILY, DEMAND = order("o1", BETA, dosage(1, "MORN")), order("o2", ALPHA, needed(1))


def asked(*orders: Order) -> PlanRequest:
    return request(orders, [ALPHA, BETA], days=7, profile=profile(as_needed_in_card=True))


BEFORE = asked(DAILY, DEMAND)
PLAN = plan_of(BEFORE)
NEEDED_CARD = next(card for card in PLAN.people[0].cards if card.as_needed)


def situation(*after: Order) -> Situation:
    rates = parse_rates(read_shipped("rework", "rates.toml"))
    return Situation(BEFORE, asked(*after), AT, AT, cards_as_planned(PLAN, AT).cards, rates)


CHANGES = [
    pytest.param((DAILY, DEMAND), False, id="nothing changed"),
    pytest.param((DAILY, replace(DEMAND, id=OrderId("o9"))), False, id="a new prescription that says the same"),
    pytest.param((replace(DAILY, until=AT), DEMAND), False, id="another order stopped"),
    pytest.param((DAILY, order("o2", ALPHA, needed(2))), True, id="another dose"),
    pytest.param((DAILY, replace(DEMAND, until=AT)), True, id="stopped from the moment on"),
    pytest.param((DAILY, replace(DEMAND, until=Moment(MONDAY + timedelta(days=6)))), True, id="stopped before the card's last day"),
    pytest.param((DAILY,), True, id="gone"),
    pytest.param((DAILY, order("o2", BETA, needed(1))), True, id="another product"),
]


@pytest.mark.parametrize(("after", "left"), CHANGES)
def test_a_card_whose_as_needed_order_changes_is_said_to_be_left(after: tuple[Order, ...], *, left: bool) -> None:
    found = check_on_demand(situation(*after))
    assert [(finding.code, finding.severity, finding.where["card"]) for finding in found] == (
        [("rework.as-needed-left", "decide", NEEDED_CARD.number)] if left else []
    )
    assert all("alpha" in say(finding).lower() for finding in found)


@pytest.mark.parametrize(("after", "left"), CHANGES)
def test_it_is_out_of_date_from_then_on(after: tuple[Order, ...], *, left: bool) -> None:
    """R9. A card also lists what is in the other cards, so that a medicine that goes touches it too."""
    (touch,) = touched([NEEDED_CARD], Change(BEFORE.orders, after, AT, STANDARD_TIMETABLE)) or (None,)
    stopped = after[0].until is not None
    assert (touch is not None) == (left or stopped)
    assert touch is None or touch.doses == ()


def test_no_cavity_of_it_is_opened_by_a_change_of_what_is_due() -> None:
    now = situation(order("o1", BETA, dosage(2, "MORN")), DEMAND)
    (layout,) = lay_out(now)
    assert layout.choices
    assert NEEDED_CARD.number not in {difference.card.number for difference in layout.differences}
    after = plan_after(PLAN, [layout], now).people[0]
    assert NEEDED_CARD in after.cards
    assert [entry.order for entry in after.alongside] == []


def test_where_nothing_changes_the_plan_stays_as_it_was() -> None:
    now = situation(DAILY, DEMAND)
    after = plan_after(PLAN, lay_out(now), now)
    assert (after.basis, after.people) == (PLAN.basis, PLAN.people)
    assert verify(after, BEFORE) == ()


def test_an_as_needed_order_that_is_new_is_named_alongside() -> None:
    now = situation(DAILY, DEMAND, order("o3", BETA, needed(1)))
    after = plan_after(PLAN, lay_out(now), now).people[0]
    assert [(entry.order, entry.why) for entry in after.alongside] == [("o3", "as-needed")]
    assert after.person == IRIS.id
