"""Dated moments: `Timing.event`, each placed at a dosing time of its day.

Source: HL7 FHIR R4 (4.0.1) Timing.event ("15 Oct 2013, 17 Oct 2013 and 1 Nov 2013").
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date, datetime, time

from dosewright.core.regimen.course import Dated, Days, Given, dated_of, day_of, given_on
from dosewright.core.regimen.dosage import Repeat, Timing
from dosewright.core.regimen.expansion import assume, decide
from dosewright.core.regimen.slots import choose_often, place_clock
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Finding

__all__ = ["Occasions", "find_occasions"]


@dataclass(frozen=True, slots=True)
class Occasions:
    """Moments one by one, in order."""

    listed: tuple[Given, ...]
    assumed: tuple[Finding, ...] = ()

    def moments(self, days: Days) -> Sequence[Given]:
        """Those in that stretch, in order."""
        return [moment for moment in self.listed if days.first <= moment.ordinal <= days.last]

    def dated(self, days: Days) -> Dated | None:
        """The same moments as the last fields of doses, field by field; None where there are none."""
        return dated_of(self.moments(days))

    @property
    def first_day(self) -> int | None:
        return self.listed[0].ordinal

    @property
    def last_day(self) -> int | None:
        return self.listed[-1].ordinal


def find_occasions(timing: Timing, timetable: Timetable) -> Occasions | tuple[Finding, ...]:
    """The moments listed, or why they cannot be used. A recurrence or a code beside them would be a second, different statement."""
    if (timing.code and timing.code.code) or not _only_empty(timing.repeat):
        return (decide("timing.event-beside-repeat"),)
    if len(set(timing.events)) < len(timing.events):
        return (decide("timing.listed-twice", element="event"),)
    placed = [_place(event, timetable) for event in timing.events]
    findings = tuple(one for one in placed if isinstance(one, Finding))
    if findings:
        return findings
    listed = tuple(sorted((one.given for one in placed if isinstance(one, _Placed)), key=_day_and_clock))
    if len(set(listed)) < len(listed):
        return (decide("timing.listed-twice", element="event"),)
    return Occasions(listed, _unique(placed))


@dataclass(frozen=True, slots=True)
class _Placed:
    given: Given
    assumed: tuple[Finding, ...]


def _day_and_clock(given: Given) -> tuple[int, time]:
    return given.ordinal, given.slot.time


def _place(event: date | datetime, timetable: Timetable) -> _Placed | Finding:
    chosen = place_clock(event.time(), timetable) if isinstance(event, datetime) else choose_often(1, timetable)
    if isinstance(chosen, Finding):
        return chosen
    zone = (assume("wall-clock"),) if isinstance(event, datetime) and event.tzinfo is not None else ()
    return _Placed(given_on(day_of(event), chosen.slots[0]), (*chosen.assumed, *zone))


def _unique(placed: list[_Placed | Finding]) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for one in placed:
        if isinstance(one, _Placed):
            found.extend(finding for finding in one.assumed if finding not in found)
    return tuple(found)


def _only_empty(repeat: Repeat | None) -> bool:
    return repeat is None or all(getattr(repeat, one.name) == one.default for one in fields(Repeat))
