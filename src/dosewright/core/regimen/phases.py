"""Several dosages of one order in their order: the same `sequence` number together, different numbers one after the other.

Comes in: the dosages, each with its quantity. Goes out: `Strand`s, each a quantity with its moments, or findings. A phase
begins on the day after the one before it ends; a phase that names its own start must not begin earlier.
Source: HL7 FHIR R4 (4.0.1) Dosage.sequence; Timing.repeat.bounds[x].
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from dosewright.core.regimen.course import Course, Days, Start, StartFrom, find_course
from dosewright.core.regimen.dosage import Dosage, Timing
from dosewright.core.regimen.expansion import decide
from dosewright.core.regimen.occasions import Occasions, find_occasions
from dosewright.core.regimen.rhythm import find_rhythm
from dosewright.core.regimen.timing_code import resolve_code
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Finding
from dosewright.core.units.quantity import Quantity

__all__ = ["Part", "Strand", "find_strands"]


@dataclass(frozen=True, slots=True)
class Part:
    """One dosage of the order: its place in the list (from 0) and what is given each time."""

    place: int
    dosage: Dosage
    quantity: Quantity


@dataclass(frozen=True, slots=True)
class Strand:
    """One dosage ready to be laid out: what is given, when."""

    part: Part
    when: Course | Occasions


@dataclass(frozen=True, slots=True)
class _Setting:
    """What every dosage of an order is expanded against."""

    timetable: Timetable
    start: Start
    window: Days


def find_strands(parts: Sequence[Part], timetable: Timetable, start: Start, window: Days) -> tuple[Strand, ...] | tuple[Finding, ...]:
    """All strands, or every reason why an order's phases have no single meaning."""
    if len(parts) == 1:  # as nearly all orders have it: nothing comes before or after
        found = _find_strand(parts[0], _Setting(timetable, start, window))
        return (found,) if isinstance(found, Strand) else found
    numbers = {part.dosage.sequence for part in parts}
    if None in numbers and len(numbers) > 1:
        return (decide("phases.some-without-number"),)
    phases = [[part for part in parts if part.dosage.sequence == number] for number in sorted(numbers, key=lambda number: number or 0)]
    return _chain(phases, _Setting(timetable, start, window))


def _chain(phases: list[list[Part]], setting: _Setting) -> tuple[Strand, ...] | tuple[Finding, ...]:
    strands: list[Strand] = []
    findings: list[Finding] = []
    for place, phase in enumerate(phases):
        found = [_find_strand(part, setting) for part in phase]
        findings += [finding for one in found if not isinstance(one, Strand) for finding in one]
        if findings:
            return tuple(findings)
        fresh = [one for one in found if isinstance(one, Strand)]
        overlap = _overlap(fresh, setting.start) if place else None
        after = _start_after(fresh) if place < len(phases) - 1 else setting.start
        findings += [one for one in (overlap, after) if isinstance(one, Finding)]
        if isinstance(after, Start):
            setting = _Setting(setting.timetable, after, setting.window)
        strands += fresh
    return tuple(findings) or tuple(strands)


def _find_strand(part: Part, setting: _Setting) -> Strand | tuple[Finding, ...]:
    timing = part.dosage.timing
    if timing is None:
        return _placed(part, (decide("timing.missing"),))
    found = _find_occasions_or_course(timing, setting)
    return Strand(part, found) if isinstance(found, Course | Occasions) else _placed(part, found)


def _find_occasions_or_course(timing: Timing, setting: _Setting) -> Course | Occasions | tuple[Finding, ...]:
    if timing.events:
        return find_occasions(timing, setting.timetable)
    repeat = resolve_code(timing)
    if repeat is None or isinstance(repeat, Finding):
        return (repeat or decide("timing.says-no-rhythm"),)
    rhythm = find_rhythm(repeat, setting.timetable)
    return rhythm if isinstance(rhythm, tuple) else find_course(repeat, rhythm, setting.start, setting.window)


def _placed(part: Part, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(Finding(one.code, one.severity, {"path": f"dosage[{part.place}]"} | dict(one.where), one.facts) for one in findings)


def _overlap(phase: list[Strand], start: Start) -> Finding | None:
    """A phase that names its own start may leave a gap after the one before, but not run beside it."""
    for strand in phase:
        first = strand.when.first_day
        if first is not None and first < start.day:
            return decide("phases.overlap", date=date.fromordinal(first))
    return None


def _start_after(phase: list[Strand]) -> Start | Finding:
    """The day after the phase. All its dosages must end on one day, at the end of that day's doses."""
    ends = {strand.when.last_day for strand in phase}
    if len(ends) > 1:
        return decide("phases.end-apart")
    end = ends.pop()
    if end is None:
        return decide("phases.open-ended", sequence=phase[0].part.dosage.sequence)
    if not all(_ends_with_its_day(strand.when, end) for strand in phase):
        return decide("phases.end-within-a-day", date=date.fromordinal(end))
    if end >= date.max.toordinal():
        return decide("phases.open-ended", sequence=phase[0].part.dosage.sequence)
    return Start(end + 1, source=StartFrom(follows=True))


def _ends_with_its_day(when: Course | Occasions, end: int) -> bool:
    if isinstance(when, Occasions) or when.last is None:
        return True
    whole = when.last[1] >= when.rhythm.slots[-1].time
    by_count = when.last[1] == when.rhythm.slots[-1].time
    return whole and not (by_count and when.rhythm.rule.anchored)
