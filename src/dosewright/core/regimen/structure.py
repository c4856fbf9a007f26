"""The structure of an order alone, without its words: strands, and the doses that they give.

Comes in: one order, the dosing times of its person, a stretch of days. Goes out: strands (each dosage with its moments), or the findings
that stand in the way; and from strands an `Expansion`. `expand` adds what the words say. Source: HL7 FHIR R4 (4.0.1) Dosage and Timing.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import partial
from operator import attrgetter

from dosewright.core.regimen.amounts import find_quantity
from dosewright.core.regimen.course import Days, Start, StartFrom
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus, decide, refuse
from dosewright.core.regimen.invariants import check_invariants
from dosewright.core.regimen.maximum import check_maxima, check_on_demand
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.regimen.phases import Part, Strand, find_strands
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["Structure", "days_from", "find_start", "find_structure", "lay_out"]


@dataclass(frozen=True, slots=True)
class Structure:
    """What a structure says: its strands where it is `scheduled`, no strands where it is `as-needed`, else the findings."""

    status: ExpansionStatus
    strands: tuple[Strand, ...] = ()
    findings: tuple[Finding, ...] = ()


def days_from(first: date, days: int) -> Days:
    """So many days from `first` on, as far as the calendar goes. Raises ValueError for a negative number of days."""
    if days < 0:
        raise ValueError(f"days must not be below zero: {days}")
    return Days(first.toordinal(), min(first.toordinal() + days - 1, date.max.toordinal()))


def find_start(order: Order, window: Days) -> Start:
    """From where rhythms, counts and courses run unless the structure says so itself."""
    if order.anchor:
        return Start(order.anchor.toordinal(), source=StartFrom(stated=True))
    if order.since:
        return Start(order.since.day.toordinal(), order.since.time, StartFrom(stated=True))
    return Start(window.first)


def find_structure(dosages: Sequence[Dosage], start: Start, timetable: Timetable, window: Days) -> Structure:
    """The strands of one order's dosages, or everything that stands in their way, all at once."""
    stops = _check_each(dosages)
    if stops:
        return _stopped(stops)
    if all(dosage.as_needed for dosage in dosages):
        above = tuple(_at(place, finding) for place, dosage in enumerate(dosages) for finding in check_on_demand(dosage))
        return _stopped(above) if above else Structure(ExpansionStatus.AS_NEEDED)
    if any(dosage.as_needed for dosage in dosages):
        return _stopped((decide("phases.partly-as-needed"),))
    return _find_scheduled(dosages, start, timetable, window)


def lay_out(order: Order, structure: Structure, window: Days) -> Expansion:
    """The doses of the window while the order is in force, in order of day and clock, with every default that was supplied."""
    doses = [dose for strand in structure.strands for dose in _doses(order, strand, window)]
    if len(structure.strands) > 1:
        doses.sort(key=_DAY_AND_CLOCK)
    if order.since or order.until:
        doses = [dose for dose in doses if order.in_force(Moment(dose.day, dose.time))]
    assumed = tuple(_at(strand.part.place, finding) for strand in structure.strands for finding in strand.when.assumed)
    return Expansion(structure.status, tuple(doses), assumed, structure.findings)


_DAY_AND_CLOCK = attrgetter("day", "time")
# A dose is made more often than anything else: these three run in C, at a third of the time of Dose(…).
_AS_DOSE = partial(tuple.__new__, Dose)
_DATED = attrgetter("dated")


def _doses(order: Order, strand: Strand, window: Days) -> Iterable[Dose]:
    whose = (order.id, order.person, order.medicine, strand.part.quantity)
    return map(_AS_DOSE, map(whose.__add__, map(_DATED, strand.when.moments(window))))


def _check_each(dosages: Sequence[Dosage]) -> tuple[Finding, ...]:
    """What stops a dosage whether or not it is taken as needed."""
    if not dosages:
        return (refuse("timing.no-dosage"),)
    found = [_at(place, finding) for place, dosage in enumerate(dosages) for finding in check_invariants(dosage)]
    return (*found, *(_at(place, refuse("dose.rate")) for place, dosage in enumerate(dosages) if any(one.rated for one in dosage.amounts)))


def _find_scheduled(dosages: Sequence[Dosage], start: Start, timetable: Timetable, window: Days) -> Structure:
    quantities = [find_quantity(dosage) for dosage in dosages]
    findings = tuple(_at(place, found) for place, found in enumerate(quantities) if isinstance(found, Finding))
    parts = [
        Part(place, dosage, found if isinstance(found, Quantity) else _NOTHING)
        for place, (dosage, found) in enumerate(zip(dosages, quantities, strict=True))
    ]
    found = find_strands(parts, timetable, start, window)
    findings += tuple(one for one in found if isinstance(one, Finding))
    strands = tuple(one for one in found if isinstance(one, Strand))
    if not findings:
        findings = (*_check_together(strands, window), *check_maxima(strands, window))
    return _stopped(findings) if findings else Structure(ExpansionStatus.SCHEDULED, strands)


_NOTHING = Quantity(Fraction(0), Unit(""))  # stands where no quantity was found, so that the timing is looked at too


def _check_together(strands: Sequence[Strand], window: Days) -> tuple[Finding, ...]:
    """Two dosages for one moment: added together, or one instead of the other? A person decides."""
    if len(strands) < 2:
        return ()
    seen: set[tuple[date, str]] = set()
    for strand in strands:
        fresh = {(moment.day, moment.slot.name) for moment in strand.when.moments(window)}
        if both := seen & fresh:
            day, name = min(both)
            return (decide("phases.same-time-twice", date=day, slot=name),)
        seen |= fresh
    return ()


def _stopped(findings: tuple[Finding, ...]) -> Structure:
    return Structure(ExpansionStatus.REFUSE if blocks(findings) else ExpansionStatus.DECIDE, findings=findings)


def _at(place: int, finding: Finding) -> Finding:
    return replace(finding, where={"path": f"dosage[{place}]", **finding.where})
