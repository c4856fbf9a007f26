"""What single words and numbers of a phrase tell: minutes, hours, days, dates. Comes in: a phrase's children. Goes out: plain values.

`NotSaid` is raised where they say nothing that can be: the 30th of February, 25 o'clock.
"""

from datetime import date, time
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.children import (
    Children,
    Counted,
    NotSaid,
    Word,
    has,
    numbers,
    one,
    period,
    span_of,
    time_unit,
    value_of,
)

__all__ = [
    "date_of",
    "day_run",
    "hour_of",
    "in_half",
    "meal_code",
    "minutes_of",
    "step_period",
    "week_run",
    "weekday_of",
    "words_of",
    "words_said",
]


def words_said(tokens: Children) -> str:
    """The words as written, or as the table gives them without the preposition that is run into them: "d'insomnie"."""
    return " ".join(str(token.value.sense.value) or token.value.text for token in tokens)


def step_period(c: Children, said: list[p.Number]) -> tuple[p.Number, TimeUnit] | None:
    """How often the step is made; None where that is not said."""
    for kind in ("ADVPERIOD", "EVERYX"):
        if has(c, kind):
            return period(str(value_of(c, kind)).partition(" ")[0])
    return (said[0] if said else one(), time_unit(c)) if has(c, "TIMEUNIT") else None


def meal_code(relation: str, meal: str) -> str:
    """FHIR R4 event-timing: AC + M is ACM, C + M is CM."""
    return relation + meal


def minutes_of(c: Children) -> int:
    """The longest that is said. "an hour" is one."""
    number, unit = (numbers(c)[0], time_unit(c)) if numbers(c) else (one(), TimeUnit.HOUR)
    minutes = number.high * {TimeUnit.MINUTE: 1, TimeUnit.HOUR: 60}.get(unit, 0)
    if minutes.denominator != 1 or number.low <= 0 or not 0 < minutes <= 240:
        raise NotSaid("read.offset", span_of(c))
    return int(minutes)


def words_of(c: Children) -> str:
    """The words as written."""
    return " ".join(child.value.text if isinstance(child, Word) else child.text for child in c)


def hour_of(c: Children, number: p.Number) -> int:
    if not number.exact or number.low.denominator != 1 or number.low > 23:
        raise NotSaid("read.clock", span_of(c))
    return int(number.low)


def in_half(c: Children, clock: time) -> time:
    """8 + "pm" is 20:00; 12 + "am" is midnight, which some take for noon: not said clearly enough. 14 + "pm" is itself."""
    after_noon = value_of(c, "AMPM") == "pm"
    if clock.hour > 12 or clock.hour == 0:
        if after_noon == (clock.hour > 12):
            return clock
        raise NotSaid("read.clock", span_of(c))
    if clock.hour == 12:
        raise NotSaid("read.twelve", span_of(c))
    return clock.replace(hour=clock.hour + 12) if after_noon else clock


def weekday_of(token: Word) -> Weekday:
    return Weekday(token.value.sense.value)


def day_run(c: Children, number: p.Number) -> tuple[int, int]:
    if any(isinstance(child, Counted) and child.either for child in c):
        raise NotSaid("read.or", span_of(c))
    if number.low.denominator != 1 or number.high.denominator != 1 or number.low < 1 or number.high > 400:
        raise NotSaid("read.odd-day", span_of(c))
    return int(number.low), int(number.high)


def week_run(c: Children) -> tuple[int, int]:
    first, last = day_run(c, numbers(c)[0])
    return first * 7 - 6, last * 7


def date_of(c: Children, year: Fraction, day: Fraction) -> date:
    try:
        if 2000 <= year <= 2199:
            return date(int(year), int(value_of(c, "MONTHNAME")), int(day))
    except ValueError:
        pass
    raise NotSaid("read.odd-day", span_of(c))
