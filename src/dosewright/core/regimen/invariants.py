"""What FHIR R4 itself forbids in a Timing and a Dosage. Comes in: one dosage. Goes out: a `stop` for each breach.

Source: HL7 FHIR R4 (4.0.1) invariants tim-1, tim-2, tim-4 to tim-10 (there is no tim-3), rng-2, per-1; element types (positiveInt).
tim-9 is read as it is meant: no code of the list may be "with a meal".
"""

from collections.abc import Iterator
from datetime import date, datetime

from dosewright.core.regimen.dosage import Dosage, Period, Repeat
from dosewright.core.regimen.event_timing import EVENT_CODES, NO_OFFSET
from dosewright.core.regimen.expansion import refuse
from dosewright.core.units.finding import Finding

__all__ = ["check_invariants"]


def check_invariants(dosage: Dosage) -> tuple[Finding, ...]:
    """Every breach, in the order of the invariants' names; none where the dosage is valid."""
    repeat = dosage.timing.repeat if dosage.timing else None
    found = [*_check_ranges(dosage)]
    if repeat:
        found += [refuse("timing.invariant", invariant=name, rule=rule) for name, rule, broken in _invariants(repeat) if broken]
        found += _check_values(repeat)
    return tuple(found)


def _invariants(repeat: Repeat) -> Iterator[tuple[str, str, bool]]:
    yield "tim-1", "a duration needs its unit", repeat.duration is not None and repeat.duration_unit is None
    yield "tim-2", "a period needs its unit", repeat.period is not None and repeat.period_unit is None
    yield "tim-4", "a duration is not below zero", repeat.duration is not None and repeat.duration < 0
    yield "tim-5", "a period is not below zero", repeat.period is not None and repeat.period < 0
    yield "tim-6", "a longest period needs a period", repeat.period_max is not None and repeat.period is None
    yield "tim-7", "a longest duration needs a duration", repeat.duration_max is not None and repeat.duration is None
    yield "tim-8", "a largest count needs a count", repeat.count_max is not None and repeat.count is None
    yield "tim-9", "an offset needs an event, and not a meal itself", _offset_without_event(repeat)
    yield "tim-10", "clock times and events exclude each other", bool(repeat.time_of_day and repeat.when)


def _offset_without_event(repeat: Repeat) -> bool:
    return repeat.offset is not None and (not repeat.when or not NO_OFFSET.isdisjoint(repeat.when))


def _check_values(repeat: Repeat) -> Iterator[Finding]:
    for code in repeat.when:
        if code not in EVENT_CODES:
            yield refuse("timing.event-code-unknown", code=code)
    for name, low, high in (
        ("frequency", repeat.frequency, repeat.frequency_max),
        ("period", repeat.period, repeat.period_max),
        ("count", repeat.count, repeat.count_max),
        ("duration", repeat.duration, repeat.duration_max),
    ):
        if low is not None and high is not None and high < low:
            yield refuse("timing.range-reversed", element=name)
    for name, value in (
        ("frequency", repeat.frequency),
        ("frequencyMax", repeat.frequency_max),
        ("count", repeat.count),
        ("offset", repeat.offset),
    ):
        if value is not None and value < (0 if name == "offset" else 1):
            yield refuse("timing.not-positive", element=name)
    if repeat.bounds_period and _reversed(repeat.bounds_period):
        yield refuse("timing.bounds-reversed")
    if sum(bound is not None for bound in (repeat.bounds_period, repeat.bounds_duration, repeat.bounds_range)) > 1:
        yield refuse("timing.bounds-twice")


def _reversed(period: Period) -> bool:
    if period.start is None or period.end is None:
        return False
    start, end = _day(period.start), _day(period.end)
    if start == end and isinstance(period.start, datetime) and isinstance(period.end, datetime):
        return period.end.replace(tzinfo=None) < period.start.replace(tzinfo=None)
    return end < start


def _day(moment: date | datetime) -> date:
    return moment.date() if isinstance(moment, datetime) else moment


def _check_ranges(dosage: Dosage) -> Iterator[Finding]:
    for amount in dosage.amounts:
        low, high = (amount.range.low, amount.range.high) if amount.range else (None, None)
        if low and high and low.unit == high.unit and high.count < low.count:
            yield refuse("timing.range-reversed", element="doseRange")
