"""Why a cavity holds what it holds: every content of any plan is accounted for exactly, and what nobody ordered is given no reason."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from tests.core.packing.drawn_requests import requests
from tests.core.packing.makers import IRIS, MONDAY, dosage, medicine, order, plan_of, request
from tests.core.packing.times_makers import written

from dosewright.core.medicines.amounts import units_of
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Content, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.why import Reason, explain_cavity
from dosewright.core.paper.say import say
from dosewright.core.regimen.expand import expand
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit

ALPHA = medicine("Alpha")


def cavities(asked: PlanRequest) -> list[PackedCavity]:
    found = [cavity for card in plan_of(asked).people[0].cards for cavity in card.cavities]
    return sorted(found, key=lambda cavity: (cavity.day, cavity.time, cavity.part))


def codes(reason: Reason) -> list[str]:
    return [finding.code for finding in reason.because if say(finding)]


@settings(max_examples=40)
@given(requests())
def test_every_content_of_any_plan_is_accounted_for_exactly(asked: PlanRequest) -> None:
    """By the orders themselves: the parts of a dose over its cavities sum to what `expand` gives for that order, day and dosing time."""
    for person, planned in zip(asked.people, plan_cycle(asked).people, strict=True):
        due = {
            (dose.order, dose.day, dose.slot): dose
            for one in asked.orders_of(person.id)
            for dose in expand(one, asked.timetable_of(person), asked.first, asked.days).doses
        }
        laid: dict[tuple[OrderId, date, SlotName], Fraction] = {}
        for cavity in (cavity for card in planned.scheduled for cavity in card.cavities):
            reasons = explain_cavity(cavity, person, asked)
            assert tuple(reason.content for reason in reasons) == cavity.contents
            for reason in reasons:
                key = reason.content.order, cavity.day, cavity.slot
                assert reason.dose == due[key]
                assert reason.order in asked.orders
                assert reason.dosage in reason.order.dosages
                assert "why.nobody-ordered-it" not in codes(reason)
                laid[key] = laid.get(key, Fraction(0)) + reason.content.quantity.count
        for key, count in laid.items():
            assert units_of(due[key].quantity, asked.medicines[due[key].medicine]) == count


FAULTS = [
    ("another order", {"order": OrderId("b")}),
    ("an order that is not there", {"order": OrderId("gone")}),
    ("another product", {"medicine": medicine("Beta").code}),
]


@pytest.mark.parametrize("change", [change for _, change in FAULTS], ids=[name for name, _ in FAULTS])
def test_what_nobody_ordered_is_given_no_reason(change: dict[str, object]) -> None:
    asked = request([order("a", ALPHA, dosage(1, "MORN")), order("b", medicine("Beta"), dosage(1, "HS"))], [ALPHA, medicine("Beta")])
    cavity = cavities(asked)[0]
    wrong = replace(cavity, contents=(replace(cavity.contents[0], **change),))  # type: ignore[arg-type]
    (reason,) = explain_cavity(wrong, IRIS, asked)
    assert (codes(reason), reason.dose, reason.dosage) == (["why.nobody-ordered-it"], None, None)


def test_a_content_on_a_day_without_a_dose_is_given_no_reason() -> None:
    asked = request([written("a", "Alpha", "Take 1 tablet on alternate days")], [ALPHA])
    cavity = cavities(asked)[0]
    (reason,) = explain_cavity(replace(cavity, day=cavity.day + timedelta(days=1)), IRIS, asked)
    assert codes(reason) == ["why.nobody-ordered-it"]


DAYS = [
    ("Take 1 tablet in the morning", ["why.every-day"]),
    ("Take 1 tablet once daily", ["why.every-day", "assumed.time-of-day"]),
    ("Take 1 tablet on alternate days in the morning", ["why.every-so-many-days"]),
    ("Take 1 tablet in the morning on Mondays", ["why.each-weekday"]),
    ("Take 1 tablet every 2 weeks on Monday in the morning", ["why.weekday"]),
    ("Take 1 tablet in the morning for 5 days", ["why.every-day", "why.course"]),
    ("Take 1 tablet once a month in the morning", ["why.every-so-many-months"]),
]


@pytest.mark.parametrize(("text", "said"), DAYS)
def test_the_rule_of_the_day_is_named(text: str, said: list[str]) -> None:
    asked = request([written("a", "Alpha", text)], [ALPHA])
    (reason,) = explain_cavity(cavities(asked)[0], IRIS, asked)
    assert codes(reason) == said


def test_milligrams_are_counted_in_units_of_the_strength() -> None:
    """7.5 mg of 5 mg tablets: one and a half (arithmetic)."""
    (reason,) = explain_cavity(cavities(asked := request([order("a", ALPHA, dosage("7.5", "MORN", unit="mg"))], [ALPHA]))[0], IRIS, asked)
    assert say(reason.because[-1]) == "Ordered as 7.5 mg; of 5 mg that is 1 and a half tablets."


def test_the_second_week_of_a_rhythm_counts_on_from_its_start() -> None:
    asked = request([written("a", "Alpha", "Take 1 tablet on alternate days in the morning", anchor=MONDAY - timedelta(days=1))], [ALPHA])
    (reason,) = explain_cavity(cavities(asked)[0], IRIS, asked)
    (rule,) = reason.because
    assert (rule.where["date"], rule.facts["since"]) == (MONDAY + timedelta(days=1), MONDAY - timedelta(days=1))


def test_the_phase_that_gives_the_dose_is_the_one_shown() -> None:
    asked = request([written("a", "Alpha", "Take 2 tablets in the morning for 3 days then 1 tablet in the morning for 4 days")], [ALPHA])
    first, *_, last = cavities(asked)
    (before,), (after,) = explain_cavity(first, IRIS, asked), explain_cavity(last, IRIS, asked)
    assert (before.dosage, after.dosage) == asked.orders[0].dosages
    nth = [finding.facts["nth"] for reason in (before, after) for finding in reason.because if finding.code == "why.course"]
    assert nth == [1, 4]


def test_a_dose_over_two_cavities_says_which_part_lies_here() -> None:
    asked = request([order("a", ALPHA, dosage(12, "MORN"))], [ALPHA])
    parts = [explain_cavity(cavity, IRIS, asked)[0] for cavity in cavities(asked) if cavity.day == MONDAY]
    said = [finding.facts for reason in parts for finding in reason.because if finding.code == "why.part-of-dose"]
    assert [(facts["here"], facts["amount"], facts["parts"]) for facts in said] == [
        ("8 tablets", "12 tablets", 2),
        ("4 tablets", "12 tablets", 2),
    ]


def test_the_end_of_an_order_is_said() -> None:
    asked = request([order("a", ALPHA, dosage(1, "MORN"), until=Moment(MONDAY + timedelta(days=3)))], [ALPHA])
    (reason,) = explain_cavity(cavities(asked)[0], IRIS, asked)
    assert codes(reason) == ["why.every-day", "why.until"]


def test_a_reason_is_for_its_content() -> None:
    """Two orders in one cavity, in the cavity's order."""
    beta = medicine("Beta")
    asked = request([order("a", ALPHA, dosage(1, "MORN")), order("b", beta, dosage(2, "MORN"))], [ALPHA, beta])
    one, other = explain_cavity(cavities(asked)[0], IRIS, asked)
    assert (one.content, other.content) == (
        Content(OrderId("a"), ALPHA.code, Quantity(Fraction(1), Unit("tablet"))),
        Content(OrderId("b"), beta.code, Quantity(Fraction(2), Unit("tablet"))),
    )
    assert (one.order, other.order) == asked.orders
