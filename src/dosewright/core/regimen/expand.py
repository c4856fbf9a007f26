"""An order becomes doses: structure × timetable × days.

Comes in: one order, the dosing times of its person, the first day and how many. Goes out: an `Expansion`. What has one meaning is
scheduled; what has several, or needs a choice, is for a person (`decide`); what FHIR R4 forbids or contradicts itself is refused. One open
point in one dosage stops the whole order: a part of a schedule is never given for the whole.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction

from dosewright.core.regimen.amounts import find_quantity
from dosewright.core.regimen.course import Days, Start, StartFrom
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus, decide, refuse
from dosewright.core.regimen.invariants import check_invariants
from dosewright.core.regimen.maximum import check_maxima
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.regimen.phases import Part, Strand, find_strands
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["expand"]


def expand(order: Order, timetable: Timetable, first: date, days: int) -> Expansion:
    """Every dose of the order on `days` days from `first` on, in order of day and clock. Raises ValueError for a negative number of days.

    Rhythms, counts and courses run from the start that the structure states, else from `order.anchor`, else from the day of `order.since`,
    else (named in `assumed`) from `first`. Days beyond the calendar's last year give no doses.
    """
    if days < 0:
        raise ValueError(f"days must not be below zero: {days}")
    window = Days(first.toordinal(), min(first.toordinal() + days - 1, date.max.toordinal()))
    stops = _check_each(order.dosages)
    if stops:
        return _stopped(stops)
    if all(dosage.as_needed for dosage in order.dosages):
        return Expansion(ExpansionStatus.AS_NEEDED)
    if any(dosage.as_needed for dosage in order.dosages):
        return _stopped((decide("phases.partly-as-needed"),))
    return _schedule(order, timetable, window)


def _check_each(dosages: Sequence[Dosage]) -> tuple[Finding, ...]:
    """What stops a dosage whether or not it is taken as needed."""
    if not dosages:
        return (refuse("timing.no-dosage"),)
    found = [_at(place, finding) for place, dosage in enumerate(dosages) for finding in check_invariants(dosage)]
    return (*found, *(_at(place, refuse("dose.rate")) for place, dosage in enumerate(dosages) if any(one.rated for one in dosage.amounts)))


def _schedule(order: Order, timetable: Timetable, window: Days) -> Expansion:
    quantities = [find_quantity(dosage) for dosage in order.dosages]
    findings = tuple(_at(place, found) for place, found in enumerate(quantities) if isinstance(found, Finding))
    parts = [
        Part(place, dosage, found if isinstance(found, Quantity) else _NOTHING)
        for place, (dosage, found) in enumerate(zip(order.dosages, quantities, strict=True))
    ]
    strands = find_strands(parts, timetable, _start(order, window), window)
    findings += tuple(one for one in strands if isinstance(one, Finding))
    whole = tuple(one for one in strands if isinstance(one, Strand))
    if not findings:
        findings = (*_check_together(whole, window), *check_maxima(whole, window))
    return _stopped(findings) if findings else _lay_out(order, whole, window)


_NOTHING = Quantity(Fraction(0), Unit(""))  # stands where no quantity was found, so that the timing is looked at too


def _start(order: Order, window: Days) -> Start:
    if order.anchor:
        return Start(order.anchor.toordinal(), source=StartFrom(stated=True))
    if order.since:
        return Start(order.since.day.toordinal(), order.since.time, StartFrom(stated=True))
    return Start(window.first)


def _check_together(strands: Sequence[Strand], window: Days) -> tuple[Finding, ...]:
    """Two dosages for one moment: added together, or one instead of the other? A person decides."""
    seen: set[tuple[int, str]] = set()
    for strand in strands:
        fresh = {(day, slot.name) for day, slot in strand.when.moments(window)}
        both = seen & fresh
        if both:
            day, name = min(both)
            return (decide("phases.same-time-twice", date=date.fromordinal(day), slot=name),)
        seen |= fresh
    return ()


def _lay_out(order: Order, strands: Sequence[Strand], window: Days) -> Expansion:
    doses = [
        Dose(order.id, order.person, order.medicine, strand.part.quantity, date.fromordinal(day), slot.name, slot.time)
        for strand in strands
        for day, slot in strand.when.moments(window)
    ]
    doses.sort(key=lambda dose: (dose.day, dose.time))
    in_force = tuple(dose for dose in doses if order.in_force(Moment(dose.day, dose.time)))
    assumed = tuple(_at(strand.part.place, finding) for strand in strands for finding in strand.when.assumed)
    return Expansion(ExpansionStatus.SCHEDULED, in_force, assumed)


def _stopped(findings: tuple[Finding, ...]) -> Expansion:
    return Expansion(ExpansionStatus.REFUSE if blocks(findings) else ExpansionStatus.DECIDE, findings=findings)


def _at(place: int, finding: Finding) -> Finding:
    return replace(finding, where={"path": f"dosage[{place}]", **finding.where})
