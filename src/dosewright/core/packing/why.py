"""Why a cavity holds what it holds: cavity, person and request in; for each content the order, its dose that day, the day's rule out.

Nothing is taken from the plan but where the cavity lies: order and dose are looked up anew. What no order in force puts there is said to be
so, and no reason is made up for it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from dosewright.core.medicines.amounts import units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import WHEN_NEEDED, Content, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.course import Course
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.regimen.phases import Strand
from dosewright.core.regimen.recurrence import EveryDays, EveryMonths, OnCycleDays, OnMonthDays, OnWeekdays
from dosewright.core.regimen.structure import days_from, find_start, find_structure
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity

__all__ = ["Reason", "explain_cavity"]

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True, slots=True)
class Reason:
    """Why one content lies there. `order` and `dosage` are what ordered it, `dose` what is due then; None where nothing did.

    `because` says, in this order: the rule of the day; from when until when; how the amount was counted; that it is a part of the dose.
    """

    content: Content
    order: Order | None
    dosage: Dosage | None
    dose: Dose | None
    because: tuple[Finding, ...]


def explain_cavity(cavity: PackedCavity, person: Person, request: PlanRequest) -> tuple[Reason, ...]:
    """A reason for each content, in the cavity's order."""
    orders = {order.id: order for order in request.orders_of(person.id)}
    return tuple(_explain(content, orders.get(content.order), _Place(cavity, person, request)) for content in cavity.contents)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where, whose, and by what."""

    cavity: PackedCavity
    person: Person
    request: PlanRequest

    def dose_of(self, order: Order) -> Dose | None:
        """What the order has due on that day at that dosing time."""
        doses = expand(order, self.request.timetable_of(self.person), self.request.first, self.request.days).doses
        return next((dose for dose in doses if (dose.day, dose.slot) == (self.cavity.day, self.cavity.slot)), None)

    def strand_of(self, order: Order) -> Strand | None:
        """Which of the order's dosages gives that dose."""
        window = days_from(self.request.first, self.request.days)
        found = find_structure(
            order.dosages, find_start(order.anchor or order.since, window), self.request.timetable_of(self.person), window
        )
        day = days_from(self.cavity.day, 1)
        return next((one for one in found.strands if any(given.slot.name == self.cavity.slot for given in one.when.moments(day))), None)

    def note(self, code: str, **facts: Fact) -> Finding:
        """About this cavity."""
        where: dict[str, Fact] = {"row": self.cavity.row, "column": self.cavity.column, "date": self.cavity.day, "slot": self.cavity.slot}
        return Finding(code, Severity.NOTE, where, {"time": self.cavity.time, **facts})


def _explain(content: Content, order: Order | None, place: _Place) -> Reason:
    if order and place.cavity.slot == WHEN_NEEDED and order.medicine == content.medicine and all(one.as_needed for one in order.dosages):
        return Reason(content, order, order.dosages[0], None, (place.note("why.when-needed"),))
    dose, strand = (place.dose_of(order), place.strand_of(order)) if order else (None, None)
    known = order and dose and strand and order.medicine == content.medicine and _counted(dose, place) is not None
    if not (order and dose and strand and known):
        stop = replace(place.note("why.nobody-ordered-it", order=content.order, amount=content.quantity.count), severity=Severity.STOP)
        return Reason(content, order, None, None, (stop,))
    because = (*_of_day(strand, place), *_in_force(order, place), *_of_amount(content, dose, place))
    return Reason(content, order, strand.part.dosage, dose, because)


def _counted(dose: Dose, place: _Place) -> Fraction | None:
    medicine = place.request.medicines.get(dose.medicine)
    count = units_of(dose.quantity, medicine) if medicine else None
    return count if isinstance(count, Fraction) else None


def _of_day(strand: Strand, place: _Place) -> Iterator[Finding]:
    """The rule that puts a dose on that day, and the default that chose the dosing time, if one did."""
    if isinstance(strand.when, Course):
        yield _of_rhythm(strand.when, place)
        yield from _of_course(strand.when, place)
    else:
        yield place.note("why.listed-day")
    yield from (replace(found, where={"path": f"dosage[{strand.part.place}]", **found.where}) for found in strand.when.assumed)


def _of_rhythm(course: Course, place: _Place) -> Finding:
    anchor = date.fromordinal(course.anchor)
    found: tuple[str, dict[str, Fact]]
    match course.rhythm.rule:
        case OnWeekdays(weekdays=weekdays, weeks=weeks):
            found = (
                "why.weekday" if weeks > 1 else "why.each-weekday",
                {"days": tuple(_WEEKDAYS[number] for number in weekdays), "weeks": weeks},
            )
        case OnMonthDays(days=days):
            found = "why.day-of-month", {"days": tuple(map(str, days))}
        case OnCycleDays(length=length):
            found = "why.day-of-cycle", {"nth": (place.cavity.day - anchor).days % length + 1, "length": length}
        case EveryMonths(step=step):
            found = "why.every-so-many-months", {"step": step}
        case EveryDays(step=step):
            found = "why.every-day" if step == 1 else "why.every-so-many-days", {"step": step}
        case rule:
            raise AssertionError(f"a rule of days without words: {rule!r}")
    code, facts = found
    return place.note(code, since=anchor, **facts)


def _of_course(course: Course, place: _Place) -> Iterator[Finding]:
    """Which day of a course with an end, and its last."""
    if course.last is not None:
        begins = date.fromordinal(course.first[0] if course.first else course.anchor)
        yield place.note("why.course", nth=(place.cavity.day - begins).days + 1, since=begins, last=date.fromordinal(course.last[0]))


def _in_force(order: Order, place: _Place) -> Iterator[Finding]:
    if order.until is not None:
        yield place.note("why.until", until=order.until.day, until_time=order.until.time)


def _of_amount(content: Content, dose: Dose, place: _Place) -> Iterator[Finding]:
    """How an amount in milligrams was counted in units, and which part of the dose lies here."""
    medicine, count = place.request.medicines[dose.medicine], _counted(dose, place)
    if dose.quantity.unit not in ("", medicine.unit):
        yield place.note("why.counted", ordered=format_quantity(dose.quantity), strength=medicine.strength, amount=_words(count, medicine))
    if count is not None and count != content.quantity.count:
        here = _words(content.quantity.count, medicine)
        yield place.note("why.part-of-dose", here=here, amount=_words(count, medicine), parts=place.cavity.parts)


def _words(count: Fraction | None, medicine: Medicine) -> str:
    return format_quantity(Quantity(count or Fraction(0), medicine.unit))
