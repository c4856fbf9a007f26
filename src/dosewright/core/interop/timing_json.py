"""FHIR R4 Timing ⇄ `Timing`. Nothing inside a timing is ever skipped: an unknown element or extension stops the reading.

The standard's two extensions that change the days are understood: timing-daysOfCycle (the cycle is as long as the period) and
timing-dayOfMonth. Source: HL7 FHIR R4 (4.0.1) Timing, extensions timing-daysOfCycle and timing-dayOfMonth.
"""

from dataclasses import dataclass, replace
from datetime import date, datetime, time
from fractions import Fraction

from dosewright.core.interop.fhir_concept import parse_concept
from dosewright.core.interop.fhir_element import Element, parse_date_time, parse_time
from dosewright.core.interop.fhir_quantity import TIME_UNITS, parse_span
from dosewright.core.regimen.dosage import Period, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.regimen.event_timing import EVENT_CODES
from dosewright.core.regimen.timing_code import SYSTEMS

__all__ = ["DAYS_OF_CYCLE", "DAY_OF_MONTH", "parse_timing"]

DAYS_OF_CYCLE = "http://hl7.org/fhir/StructureDefinition/timing-daysOfCycle"
DAY_OF_MONTH = "http://hl7.org/fhir/StructureDefinition/timing-dayOfMonth"

_WEEKDAYS = frozenset(Weekday)


@dataclass(slots=True)
class _Listed:
    """The days that the standard's extensions list, wherever they stand in the timing."""

    of_cycle: tuple[int, ...] = ()
    of_month: tuple[int, ...] = ()


def parse_timing(element: Element) -> Timing | None:
    """The timing, or None where nothing is in it."""
    days = _Listed()
    _parse_extensions(element, days)
    events = tuple(event for text in element.members("event") if (event := _parse_event(element, text)) is not None)
    child, code = element.child("repeat", strict=True), element.child("code")
    repeat = _parse_repeat(child, days) if child else _only_days(days)
    found = Timing(events, repeat, parse_concept(code, SYSTEMS) if code else None)
    element.finish()
    return found


def _parse_event(element: Element, text: object) -> date | datetime | None:
    parsed = parse_date_time(text) if isinstance(text, str) else None
    if parsed is None:
        element.stop("fhir.wrong-value", element="event", value=str(text)[:40], wanted="a date or a date with a time")
    elif isinstance(parsed, tuple) and parsed[0] != parsed[1]:
        element.ask("fhir.date-without-a-day", element="event", value=str(text))
        return parsed[0]
    return parsed[0] if isinstance(parsed, tuple) else parsed


def _parse_repeat(element: Element, days: _Listed) -> Repeat:
    _parse_extensions(element, days)
    unit = element.code("periodUnit", frozenset(TIME_UNITS))
    duration_unit = element.code("durationUnit", frozenset(TIME_UNITS))
    found = Repeat(
        count=element.integer("count", 1),
        count_max=element.integer("countMax", 1),
        duration=element.decimal("duration"),
        duration_max=element.decimal("durationMax"),
        duration_unit=TIME_UNITS.get(duration_unit),
        frequency=element.integer("frequency", 1),
        frequency_max=element.integer("frequencyMax", 1),
        period=element.decimal("period"),
        period_max=element.decimal("periodMax"),
        period_unit=TIME_UNITS.get(unit),
        day_of_week=_parse_weekdays(element),
        time_of_day=_parse_times(element),
        when=_parse_codes(element, "when", EVENT_CODES),
        offset=element.integer("offset", 0),
        days_of_cycle=days.of_cycle,
        days_of_month=days.of_month,
    )
    found = _parse_bounds(element, found)
    element.finish()
    return replace(found, cycle_length=_cycle_length(found))


def _only_days(days: _Listed) -> Repeat | None:
    listed = Repeat(days_of_cycle=days.of_cycle, days_of_month=days.of_month)
    return listed if listed != Repeat() else None


def _cycle_length(repeat: Repeat) -> int | None:
    """The extension names the days only: the cycle they count in is the period of the repeat."""
    days = {TimeUnit.DAY: Fraction(1), TimeUnit.WEEK: Fraction(7)}.get(repeat.period_unit) if repeat.period_unit else None
    length = (repeat.period or Fraction(0)) * (days or 0)
    return int(length) if repeat.days_of_cycle and length > 1 and length.denominator == 1 else None


def _parse_bounds(element: Element, repeat: Repeat) -> Repeat:
    period, duration, spans = element.child("boundsPeriod"), element.child("boundsDuration"), element.child("boundsRange")
    if sum(one is not None for one in (period, duration, spans)) > 1:
        element.stop("fhir.both-choices", element="bounds[x]")
    return replace(
        repeat,
        bounds_period=_parse_period(period) if period else None,
        bounds_duration=parse_span(duration) if duration else None,
        bounds_range=_parse_spans(spans) if spans else None,
    )


def _parse_spans(element: Element) -> tuple[Span | None, Span | None]:
    low, high = element.child("low"), element.child("high")
    element.finish()
    return parse_span(low) if low else None, parse_span(high) if high else None


def _parse_period(element: Element) -> Period:
    start, end = _parse_end(element, "start"), _parse_end(element, "end")
    element.finish()
    partly = isinstance(start, tuple) and start[0] != start[1]
    return Period(
        start[0] if isinstance(start, tuple) else start,
        end[1] if isinstance(end, tuple) else end,
        start[1] if partly and isinstance(start, tuple) else None,
    )


def _parse_end(element: Element, name: str) -> tuple[date, date] | datetime | None:
    text = element.text(name)
    parsed = parse_date_time(text) if text else None
    if text and parsed is None:
        element.stop("fhir.wrong-value", element=name, value=text[:40], wanted="a date or a date with a time")
    return parsed


def _parse_weekdays(element: Element) -> tuple[Weekday, ...]:
    return tuple(Weekday(code) for code in _parse_codes(element, "dayOfWeek", _WEEKDAYS))


def _parse_codes(element: Element, name: str, allowed: frozenset[str]) -> tuple[str, ...]:
    found = element.each(name, lambda text: text if text in allowed else None)
    return tuple(code for code in found if isinstance(code, str))


def _parse_times(element: Element) -> tuple[time, ...]:
    return tuple(clock for clock in element.each("timeOfDay", parse_time) if isinstance(clock, time))


def _parse_extensions(element: Element, days: _Listed) -> None:
    """The two that are understood; any other stops the reading."""
    for one in element.children("extension"):
        match one.text("url"):
            case url if url == DAYS_OF_CYCLE:
                days.of_cycle += _parse_cycle_days(one)
            case url if url == DAY_OF_MONTH:
                days.of_month += _parse_number(one)
            case url:
                one.stop("fhir.unknown-extension", url=url)
                continue
        one.finish()


def _parse_cycle_days(element: Element) -> tuple[int, ...]:
    found: tuple[int, ...] = ()
    for one in element.children("extension"):
        if one.text("url") != "day":
            one.stop("fhir.unknown-extension", url=one.text("url"))
            continue
        found += _parse_number(one)
        one.finish()
    if not found:
        element.stop("fhir.empty", element="timing-daysOfCycle")
    return found


def _parse_number(element: Element) -> tuple[int, ...]:
    given = [name for name in ("valueInteger", "valuePositiveInt", "valueUnsignedInt") if element.has(name)]
    numbers = [element.integer(name, 1) for name in given]
    if len(given) != 1:
        element.stop("fhir.value-missing")
    return tuple(number for number in numbers if number is not None)
