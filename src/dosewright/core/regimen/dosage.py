"""The structure of directions: FHIR R4 `Dosage` and `Timing` as our own exact values, nothing left out.

A field that FHIR allows and these values cannot hold must stop the reader at the border (`core.interop`), never be dropped.
Source: HL7 FHIR R4 (4.0.1), datatypes Timing and Dosage.
"""

from dataclasses import dataclass
from datetime import date, datetime, time
from enum import StrEnum
from fractions import Fraction

from dosewright.core.units.quantity import Quantity

__all__ = ["Amount", "Coding", "Dosage", "Maximum", "Period", "Range", "Repeat", "Span", "TimeUnit", "Timing", "Weekday"]


class TimeUnit(StrEnum):
    """FHIR R4 units-of-time (UCUM)."""

    SECOND = "s"
    MINUTE = "min"
    HOUR = "h"
    DAY = "d"
    WEEK = "wk"
    MONTH = "mo"
    YEAR = "a"


class Weekday(StrEnum):
    """FHIR R4 days-of-week; `number` is Monday 0 … Sunday 6, as `date.weekday()` counts."""

    MON = "mon"
    TUE = "tue"
    WED = "wed"
    THU = "thu"
    FRI = "fri"
    SAT = "sat"
    SUN = "sun"

    @property
    def number(self) -> int:
        return list(Weekday).index(self)


@dataclass(frozen=True, slots=True)
class Coding:
    """A code of some system, or only the words: `Coding(text="Take with food")`."""

    system: str = ""
    code: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True)
class Range:
    """From `low` to `high`, either may be missing."""

    low: Quantity | None = None
    high: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Amount:
    """One `doseAndRate`: one of `quantity` and `range` where the order says how much; `rated` where it is a rate (refused for cards)."""

    quantity: Quantity | None = None
    range: Range | None = None
    rated: bool = False


@dataclass(frozen=True, slots=True)
class Period:
    """First and last day, both counted; a clock time where one was given.

    Where only a month or a year was given, `start` is its first day and `start_latest` its last: no rhythm can be anchored on it. An end of
    that kind is its last day (FHIR R4 Period: the end includes every day that matches it).
    """

    start: date | datetime | None = None
    end: date | datetime | None = None
    start_latest: date | None = None


@dataclass(frozen=True, slots=True)
class Span:
    """A length of time: 10 days, 6 weeks."""

    value: Fraction
    unit: TimeUnit


@dataclass(frozen=True, slots=True)
class Repeat:
    """FHIR R4 `Timing.repeat`, field by field; `days_of_cycle` and `days_of_month` are the standard's own extensions.

    `days_of_cycle` counts from 1 at the order's start: three weeks on, one off is 1..21 with `cycle_length` 28.
    """

    bounds_period: Period | None = None
    bounds_duration: Span | None = None
    bounds_range: tuple[Span | None, Span | None] | None = None
    count: int | None = None
    count_max: int | None = None
    duration: Fraction | None = None
    duration_max: Fraction | None = None
    duration_unit: TimeUnit | None = None
    frequency: int | None = None
    frequency_max: int | None = None
    period: Fraction | None = None
    period_max: Fraction | None = None
    period_unit: TimeUnit | None = None
    day_of_week: tuple[Weekday, ...] = ()
    time_of_day: tuple[time, ...] = ()
    when: tuple[str, ...] = ()
    offset: int | None = None  # minutes
    days_of_cycle: tuple[int, ...] = ()
    cycle_length: int | None = None  # days
    days_of_month: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Timing:
    """FHIR R4 `Timing`: dated moments, a recurrence, a code that states one; any of them, agreeing."""

    events: tuple[date | datetime, ...] = ()
    repeat: Repeat | None = None
    code: Coding | None = None


@dataclass(frozen=True, slots=True)
class Maximum:
    """`maxDosePerPeriod`: at most `quantity` within `span`."""

    quantity: Quantity
    span: Span


@dataclass(frozen=True, slots=True)
class Dosage:
    """FHIR R4 `Dosage`. `as_needed` is true with or without reasons; `amounts` is `doseAndRate` in order."""

    text: str = ""
    sequence: int | None = None
    additional: tuple[Coding, ...] = ()
    patient_instruction: str = ""
    timing: Timing | None = None
    as_needed: bool = False
    as_needed_for: Coding | None = None
    site: Coding | None = None
    route: Coding | None = None
    method: Coding | None = None
    amounts: tuple[Amount, ...] = ()
    max_per_period: Maximum | None = None
    max_per_administration: Quantity | None = None
    max_per_lifetime: Quantity | None = None
