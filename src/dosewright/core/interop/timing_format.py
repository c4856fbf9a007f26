"""`Timing` → FHIR R4 Timing, as values for JSON. Keys in the standard's order, numbers exact.

What R4 cannot hold raises ValueError: a third of something has no decimal. Source: HL7 FHIR R4 (4.0.1) Timing and its two extensions.
"""

from collections.abc import Mapping
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction

from dosewright.core.interop.json_text import Writable
from dosewright.core.interop.timing_json import DAY_OF_MONTH, DAYS_OF_CYCLE
from dosewright.core.regimen.dosage import Coding, Period, Repeat, Span, TimeUnit, Timing
from dosewright.core.units.quantity import format_amount

__all__ = ["UCUM", "Fields", "filled", "format_concept", "format_number", "format_span", "format_timing"]

UCUM = "http://unitsofmeasure.org"

Fields = dict[str, Writable]

_TIME_WORDS = {
    TimeUnit.SECOND: "second",
    TimeUnit.MINUTE: "minute",
    TimeUnit.HOUR: "hour",
    TimeUnit.DAY: "day",
    TimeUnit.WEEK: "week",
    TimeUnit.MONTH: "month",
    TimeUnit.YEAR: "year",
}


def format_timing(timing: Timing) -> Fields:
    """The timing's elements that are there."""
    return filled(
        {
            "event": [_moment(event) for event in timing.events],
            "repeat": _repeat(timing.repeat) if timing.repeat else None,
            "code": format_concept(timing.code) if timing.code else None,
        }
    )


def filled(fields: Mapping[str, Writable]) -> Fields:
    """Without the names that hold nothing; FHIR has no empty values."""
    return {name: value for name, value in fields.items() if value not in (None, "", [], {})}


def format_number(count: Fraction) -> int | Decimal:
    """An exact JSON number. Raises ValueError where there is none."""
    text = format_amount(count)
    if "/" in text:
        raise ValueError(f"{text} is no decimal number, and FHIR R4 has no other")
    return Decimal(text) if "." in text else int(text)


def format_span(span: Span) -> Fields:
    """A FHIR Duration."""
    return {"value": format_number(span.value), "unit": _TIME_WORDS[span.unit], "system": UCUM, "code": str(span.unit)}


def format_concept(coding: Coding) -> Fields:
    """A CodeableConcept of one coding, or of words only."""
    code = filled({"system": coding.system, "code": coding.code})
    return filled({"coding": [code] if code else [], "text": coding.text})


def _repeat(repeat: Repeat) -> Fields:
    frequency, period, unit = _cycle(repeat) if repeat.cycle_length else (repeat.frequency, repeat.period, repeat.period_unit)
    return filled(
        {
            "extension": _extensions(repeat),
            "boundsPeriod": _period(repeat.bounds_period) if repeat.bounds_period else None,
            "boundsDuration": format_span(repeat.bounds_duration) if repeat.bounds_duration else None,
            "boundsRange": _spans(*repeat.bounds_range) if repeat.bounds_range else None,
            "count": repeat.count,
            "countMax": repeat.count_max,
            "duration": _number(repeat.duration),
            "durationMax": _number(repeat.duration_max),
            "durationUnit": repeat.duration_unit and str(repeat.duration_unit),
            "frequency": frequency,
            "frequencyMax": repeat.frequency_max,
            "period": _number(period),
            "periodMax": _number(repeat.period_max),
            "periodUnit": unit and str(unit),
            "dayOfWeek": [str(day) for day in repeat.day_of_week],
            "timeOfDay": [_clock(clock) for clock in repeat.time_of_day],
            "when": list(repeat.when),
            "offset": repeat.offset,
        }
    )


def _cycle(repeat: Repeat) -> tuple[int | None, Fraction | None, TimeUnit | None]:
    """The extension names the days of the cycle; its length is the period, and the frequency counts over the whole of it."""
    length = Fraction(repeat.cycle_length or 0)
    if repeat.period is None and repeat.frequency is None:
        return None, length, TimeUnit.DAY
    if (repeat.period, repeat.period_unit) in ((length, TimeUnit.DAY), (length / 7, TimeUnit.WEEK)):
        return repeat.frequency, repeat.period, repeat.period_unit
    if repeat.period == 1 and repeat.period_unit is TimeUnit.DAY:
        frequency = None if repeat.frequency is None else repeat.frequency * len(repeat.days_of_cycle)
        return frequency, length, TimeUnit.DAY
    raise ValueError("a cycle of days beside another period cannot be written in FHIR R4")


def _extensions(repeat: Repeat) -> list[Writable]:
    cycle: list[Writable] = [{"url": "day", "valueInteger": day} for day in repeat.days_of_cycle]
    found: list[Writable] = [{"url": DAYS_OF_CYCLE, "extension": cycle}] if cycle else []
    found.extend({"url": DAY_OF_MONTH, "valuePositiveInt": day} for day in repeat.days_of_month)
    return found


def _period(period: Period) -> Fields:
    start = _partial(period.start, period.start_latest) if period.start_latest else _moment(period.start)
    return filled({"start": start, "end": _moment(period.end)})


def _partial(first: date | None, last: date) -> str:
    return f"{last.year:04}" if first and first.month != last.month else f"{last.year:04}-{last.month:02}"


def _spans(low: Span | None, high: Span | None) -> Fields:
    return filled({"low": format_span(low) if low else None, "high": format_span(high) if high else None})


def _moment(moment: date | datetime | None) -> str:
    text = moment.isoformat() if moment else ""
    return text.replace("+00:00", "Z") if isinstance(moment, datetime) else text


def _clock(clock: time) -> str:
    return clock.isoformat()


def _number(value: Fraction | None) -> int | Decimal | None:
    return None if value is None else format_number(value)
