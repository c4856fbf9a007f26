"""What stands against an order when it is confirmed: more of a substance in a day than is allowed, and amounts its product cannot make.

Limits as in the rules that ship: paracetamol 4000 mg a day (British National Formulary, cautionary labels 29 and 30).
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import rules
from tests.core.packing.makers import medicine
from tests.core.regimen.regimen_makers import MONDAY, a_dosage, every

from dosewright.core.custody.confirming import Around, Confirmation, settle
from dosewright.core.custody.conflicts import Known, check_conflicts
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.dosage import Amount, Dosage, Maximum, Span, TimeUnit
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit

IRIS = Person(PersonId("p1"), "Iris Fenwick")
PARACETAMOL = medicine("Paracetamol", strength="500 mg", strength_amount=Quantity(Fraction(500), Unit("mg")))
CO_CODAMOL = medicine("Co-codamol", strength="8 mg/500 mg", strength_amount=None)
RAMIPRIL = medicine("Ramipril", strength="5 mg", strength_amount=Quantity(Fraction(5), Unit("mg")))
KNOWN = Known(IRIS, {each.code: each for each in (PARACETAMOL, CO_CODAMOL, RAMIPRIL)}, rules())


def times(amount: Fraction | int, often: int, unit: str = "tablet", **fields: object) -> Dosage:
    when = ("MORN", "NOON", "EVE", "HS")[:often]
    return a_dosage(every(often, 1, "d", when=when), amounts=(Amount(Quantity(Fraction(amount), Unit(unit))),), **fields)


def an_order(name: str, product: Medicine, *dosages: Dosage, since: date = MONDAY) -> Order:
    return Order(OrderId(name), IRIS.id, product.code, dosages, since=Moment(since), anchor=since)


def found(order: Order, *others: Order) -> list[str]:
    return [f"{one.code} {one.severity}" for one in check_conflicts(order, others, KNOWN, STANDARD_TIMETABLE, MONDAY)]


NINE = an_order("nine", PARACETAMOL, times(3, 3))
EIGHT = an_order("eight", PARACETAMOL, times(2, 4))
FOUR = an_order("four", CO_CODAMOL, times(2, 2))
CAPS = an_order("caps", RAMIPRIL, times(1, 1))


def test_more_than_a_day_allows_is_found_alone() -> None:
    assert found(NINE) == ["daily-maximum decide"]
    assert found(EIGHT) == []


def test_and_together_with_what_the_person_has_already() -> None:
    (finding,) = check_conflicts(FOUR, (EIGHT,), KNOWN, STANDARD_TIMETABLE, MONDAY)
    assert (finding.code, finding.facts["total"], finding.facts["limit"]) == ("daily-maximum", 6000, 4000)
    assert found(FOUR) == []


def test_what_is_above_by_itself_is_said_once_and_not_again_together() -> None:
    assert found(NINE, FOUR) == ["daily-maximum decide"]


def test_what_others_take_too_much_of_is_not_this_orders_matter() -> None:
    assert found(CAPS, NINE) == []


def test_an_as_needed_order_counts_at_the_most_that_it_allows() -> None:
    needed = an_order("needed", PARACETAMOL, replace(times(2, 4), as_needed=True))
    assert found(needed, an_order("one", PARACETAMOL, times(1, 1))) == ["daily-maximum decide"]


def around(*others: Order) -> Around:
    return Around(others, STANDARD_TIMETABLE, MONDAY, known=KNOWN)


def codes(findings: Sequence[Finding]) -> list[str]:
    return [finding.code for finding in findings]


def test_it_is_confirmed_with_a_reason_only_and_the_finding_goes_with_it() -> None:
    open_order = replace(NINE, id=OrderId("new"))
    refused = settle(open_order, None, Confirmation(), around())
    assert (refused.order, codes(refused.findings)) == (None, ["daily-maximum", "custody.no-reason"])
    done = settle(open_order, None, Confirmation(reason="for three days, Dr Example"), around())
    assert (done.order, codes(done.findings)) == (open_order, ["daily-maximum"])


def test_the_order_that_is_replaced_does_not_count_any_more() -> None:
    later = replace(EIGHT, id=OrderId("new"), since=Moment(MONDAY + timedelta(days=3)))
    assert settle(later, None, Confirmation(replaces=EIGHT.id), around(EIGHT)).order == later
    assert codes(settle(later, None, Confirmation(beside=True), around(EIGHT)).findings) == ["daily-maximum", "custody.no-reason"]


def test_another_product_of_the_same_substance_must_be_placed_beside_or_instead() -> None:
    generic = medicine("Paracetamol", code="para-250", strength="250 mg", strength_amount=Quantity(Fraction(250), Unit("mg")))
    known = Known(IRIS, {**KNOWN.medicines, generic.code: generic}, rules())
    order = an_order("new", generic, times(1, 1), since=MONDAY + timedelta(days=1))
    beside = replace(around(an_order("old", PARACETAMOL, times(1, 1))), known=known)
    assert codes(settle(order, None, Confirmation(), beside).findings) == ["custody.same-substance"]
    assert settle(order, None, Confirmation(beside=True), beside).order == order
    replaced = settle(order, None, Confirmation(replaces=OrderId("old")), beside).replaced
    assert replaced is not None
    assert replaced.until == order.since
    assert settle(order, None, Confirmation(), replace(beside, others=(FOUR,))).order == order  # a blend is another matter


@given(st.integers(1, 200), st.sampled_from((4, 5, 10, 16)))
def test_milligrams_that_are_no_multiple_of_half_a_unit_stop_a_scheduled_order(eighths: int, strength: int) -> None:
    amount = Fraction(eighths, 8)
    product = medicine("Ramipril", strength=f"{strength} mg", strength_amount=Quantity(Fraction(strength), Unit("mg")))
    known = Known(IRIS, {product.code: product}, rules())
    order = an_order("mg", product, times(amount, 1, "mg"))
    stopped = codes(check_conflicts(order, (), known, STANDARD_TIMETABLE, MONDAY))
    assert stopped == ([] if (amount / strength * 2).denominator == 1 else ["amount.inexact"])


def test_the_same_taken_when_needed_is_for_a_person() -> None:
    assert found(an_order("mg", RAMIPRIL, times(7, 1, "mg"))) == ["amount.inexact stop"]
    assert found(an_order("mg", RAMIPRIL, replace(times(7, 1, "mg"), as_needed=True))) == ["amount.inexact decide"]
    assert settle(an_order("mg", RAMIPRIL, times(7, 1, "mg")), None, Confirmation(reason="x"), around()).order is None


def test_a_product_that_may_not_be_divided_is_not() -> None:
    whole = replace(RAMIPRIL, flags=frozenset({"halves-no"}))
    known = Known(IRIS, {whole.code: whole}, rules())
    order = an_order("half", whole, times(Fraction(1, 2), 1))
    assert codes(check_conflicts(order, (), known, STANDARD_TIMETABLE, MONDAY)) == ["amount.not-breakable"]


def test_a_maximum_below_the_schedule_keeps_an_order_from_being_confirmed_whatever_the_reason() -> None:
    limit = Maximum(Quantity(Fraction(3), Unit("tablet")), Span(Fraction(1), TimeUnit.DAY))
    order = an_order("limited", RAMIPRIL, times(1, 4, max_per_period=limit))
    stopped = settle(order, None, Confirmation(reason="x"), around())
    assert (stopped.order, codes(stopped.findings)) == (None, ["custody.not-schedulable", "dose.above-period-maximum"])


@pytest.mark.parametrize("findings", [("order.large-amount",), ("order.large-amount", "read.word")])
def test_what_was_asked_about_when_it_came_in_needs_a_reason_also_where_the_words_had_one_reading(findings: tuple[str, ...]) -> None:
    asked = replace(around(), found=tuple(Finding(code, Severity.DECIDE) for code in findings))
    reading = Reading(ReadingStatus.READ, CAPS.dosages)
    order = replace(CAPS, dosages=())
    assert codes(settle(order, reading, Confirmation(), asked).findings) == ["custody.no-reason"]
    assert settle(order, reading, Confirmation(reason="asked Dr Example"), asked).order == CAPS
