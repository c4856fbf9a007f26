"""R13: what a pharmacist can confirm, and what must be said first."""

from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

import pytest
from tests.core.card_maker import BISOPROLOL, MONDAY

from dosewright.core.custody.confirming import Around, Confirmation, choices_of, settle
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Choice, Question, Reading, ReadingStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.core.units.quantity import Quantity, Unit


def directions(amount: int = 1, **repeat: object) -> tuple[Dosage, ...]:
    """One or more tablets every morning, unless the rhythm says otherwise."""
    every = {"frequency": 1, "period": Fraction(1), "period_unit": TimeUnit.DAY, "when": ("MORN",)} | repeat
    amounts = (Amount(Quantity(Fraction(amount), Unit("tablet"))),)
    return (Dosage(timing=Timing(repeat=Repeat(**every)), amounts=amounts),)  # type: ignore[arg-type]


ORDER = Order(OrderId("RX1"), PersonId("p1"), BISOPROLOL, directions(), text="one every morning")
OPEN = replace(ORDER, dosages=())
AROUND = Around((), STANDARD_TIMETABLE, MONDAY)
ONE, TWO = directions(1), directions(2)
ASKED = Reading(
    ReadingStatus.DECIDE,
    questions=(Question("a", {}, (0, 1), (Choice(ONE),)), Question("b", {}, (0, 1), (Choice(TWO),))),
)
REFUSED = Reading(ReadingStatus.REFUSE)


def codes(order: Order, reading: Reading | None, said: Confirmation = Confirmation(), around: Around = AROUND) -> list[str]:  # noqa: B008
    settled = settle(order, reading, said, around)
    assert (settled.order is None) is bool(settled.findings)
    return [finding.code for finding in settled.findings]


def test_structure_with_one_reading_is_confirmed_as_it_stands() -> None:
    assert settle(ORDER, None, Confirmation(), AROUND).order == ORDER
    assert settle(OPEN, Reading(ReadingStatus.READ, ONE), Confirmation(), AROUND).order == replace(OPEN, dosages=ONE)


@pytest.mark.parametrize(("choice", "dosages"), [(0, ONE), (1, TWO)])
def test_of_several_readings_the_chosen_one_counts_question_after_question(choice: int, dosages: tuple[Dosage, ...]) -> None:
    assert len(choices_of(ASKED)) == 2
    settled = settle(OPEN, ASKED, Confirmation(choice=choice), AROUND)
    assert settled.order is not None
    assert settled.order.dosages == dosages


@pytest.mark.parametrize("choice", [None, -1, 2])
def test_r13_of_several_readings_none_is_guessed(choice: int | None) -> None:
    assert codes(OPEN, ASKED, Confirmation(choice=choice)) == ["custody.reading-not-chosen"]


def test_r13_what_was_refused_is_not_confirmed_whatever_is_chosen() -> None:
    assert codes(OPEN, REFUSED, Confirmation(choice=0)) == ["custody.reading-refused"]


def test_directions_written_anew_need_one_reading_and_a_reason_and_the_text_as_received_stays() -> None:
    anew = Reading(ReadingStatus.READ, TWO)
    assert codes(OPEN, REFUSED, Confirmation(restated=anew)) == ["custody.no-reason"]
    assert codes(OPEN, REFUSED, Confirmation(restated=ASKED, reason="asked Dr Example")) == ["custody.restated-not-read"]
    settled = settle(OPEN, REFUSED, Confirmation(restated=anew, reason="asked Dr Example"), AROUND)
    assert settled.order is not None
    assert (settled.order.dosages, settled.order.text) == (TWO, "one every morning")


def test_a_rhythm_needs_a_day_from_which_it_runs_and_the_start_that_is_set_is_that_day() -> None:
    every_third = replace(ORDER, dosages=directions(period=Fraction(3)))
    assert codes(every_third, None) == ["custody.needs-start"]
    start = Moment(MONDAY + timedelta(days=1))
    settled = settle(every_third, None, Confirmation(since=start), AROUND)
    assert settled.order is not None
    assert (settled.order.since, settled.order.anchor) == (start, start.day)


def test_an_anchor_that_is_named_wins_over_the_start() -> None:
    said = Confirmation(since=Moment(MONDAY), anchor=MONDAY - timedelta(days=2))
    settled = settle(replace(ORDER, dosages=directions(period=Fraction(3))), None, said, AROUND)
    assert settled.order is not None
    assert settled.order.anchor == MONDAY - timedelta(days=2)


def test_structure_that_came_with_a_question_is_confirmed_with_a_reason_only() -> None:
    asked = replace(AROUND, found=(Finding("order.text-differs", Severity.DECIDE),))
    assert codes(ORDER, None, Confirmation(), asked) == ["custody.no-reason"]
    assert codes(ORDER, None, Confirmation(reason="the text is last year's"), asked) == []


OTHER = replace(ORDER, id=OrderId("RX0"), since=Moment(date(2026, 1, 1)))
BESIDE = replace(AROUND, others=(OTHER,))


def test_a_second_order_of_one_medicine_must_be_placed_beside_or_instead() -> None:
    assert codes(ORDER, None, Confirmation(), BESIDE) == ["custody.same-medicine"]
    assert codes(ORDER, None, Confirmation(beside=True), BESIDE) == []
    assert codes(ORDER, None, Confirmation(replaces=OTHER.id), BESIDE) == ["custody.replacing-needs-start"]
    assert codes(ORDER, None, Confirmation(replaces=OrderId("RX9"), since=Moment(MONDAY)), BESIDE) == ["custody.not-there"]


def test_the_order_that_is_replaced_ends_as_the_new_one_begins() -> None:
    at = Moment(MONDAY, time(12))
    settled = settle(ORDER, None, Confirmation(replaces=OTHER.id, since=at), BESIDE)
    assert settled.replaced == replace(OTHER, until=at)


def test_orders_of_one_medicine_that_never_count_together_need_no_word() -> None:
    before = replace(OTHER, until=Moment(MONDAY))
    assert codes(replace(ORDER, since=Moment(MONDAY)), None, Confirmation(), replace(AROUND, others=(before,))) == []
