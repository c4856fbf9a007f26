"""Structures as prescribers order them, drawn at random, and the form in which two that mean the same are equal."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from dosewright.core.regimen.dosage import Amount, Coding, Dosage, Maximum, Period, Range, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.units.quantity import Quantity, Unit

UNITS = ("tablet", "capsule", "mg", "mL", "drop", "sachet", "patch", "puff", "unit", "")
WHENS = ("MORN", "NOON", "EVE", "HS", "CM", "CD", "CV", "ACM", "ACD", "ACV", "PCM", "PCD", "PCV", "WAKE")
SLOTS = {
    "MORN": 1,
    "CM": 1,
    "ACM": 1,
    "PCM": 1,
    "WAKE": 1,
    "NOON": 2,
    "CD": 2,
    "ACD": 2,
    "PCD": 2,
    "EVE": 3,
    "CV": 3,
    "ACV": 3,
    "PCV": 3,
    "HS": 4,
}
REASONS = {"en": ("pain", "nausea"), "fr": ("douleur",), "es": ("dolor",), "de": ("Schmerzen",)}

counts = st.sampled_from(
    [Fraction(n, d) for n, d in ((1, 1), (2, 1), (3, 1), (10, 1), (1, 2), (3, 2), (5, 2), (1, 4), (3, 4), (500, 1), (25, 2))]
)


@st.composite
def amounts(draw: st.DrawFn, unit: str, *, wanted: bool = False) -> Amount:
    count = draw(counts)
    if wanted and count.denominator == 1 and draw(st.booleans()):
        return Amount(range=Range(Quantity(count, Unit(unit)), Quantity(count + 1, Unit(unit))))
    return Amount(quantity=Quantity(count, Unit(unit)))


moments = st.lists(st.sampled_from(WHENS), min_size=1, max_size=4, unique_by=SLOTS.__getitem__).map(tuple)
clocks = st.lists(st.times(), min_size=1, max_size=3, unique=True).map(
    lambda found: tuple(sorted({t.replace(second=0, microsecond=0) for t in found}))
)


@st.composite
def days(draw: st.DrawFn, moments_each_day: int) -> Repeat:
    """On which days, or how often in them."""
    kind = draw(st.sampled_from(("each", "each", "each", "stride", "weekdays", "month", "cycle", "weekly")))
    daily = Repeat(frequency=moments_each_day, period=Fraction(1), period_unit=TimeUnit.DAY)
    if kind == "stride":
        return replace(daily, period=Fraction(draw(st.integers(2, 30))))
    if kind == "weekdays":
        chosen = draw(st.sets(st.sampled_from(tuple(Weekday)), min_size=1, max_size=6))
        return replace(daily, day_of_week=tuple(day for day in Weekday if day in chosen))
    if kind == "month":
        return replace(daily, days_of_month=(draw(st.integers(1, 28)),))
    if kind == "cycle":
        first, length = draw(st.integers(1, 3)), draw(st.integers(5, 24))
        return replace(daily, days_of_cycle=tuple(range(first, first + length)), cycle_length=first + length + draw(st.integers(1, 10)))
    if kind == "weekly" and moments_each_day == 1:
        return replace(daily, period=Fraction(draw(st.integers(1, 6))), period_unit=draw(st.sampled_from((TimeUnit.WEEK, TimeUnit.MONTH))))
    return daily


@st.composite
def bounds(draw: st.DrawFn) -> dict[str, Any]:
    kind = draw(st.sampled_from(("none", "none", "span", "from", "until", "both")))
    start = date(2026, 3, 1) + timedelta(draw(st.integers(0, 400)))
    if kind == "span":
        return {
            "bounds_duration": Span(
                Fraction(draw(st.integers(1, 40))), draw(st.sampled_from((TimeUnit.DAY, TimeUnit.WEEK, TimeUnit.MONTH)))
            )
        }
    if kind == "from":
        return {"bounds_period": Period(start)}
    if kind == "until":
        return {"bounds_period": Period(None, start)}
    return {"bounds_period": Period(start, start + timedelta(draw(st.integers(0, 90))))} if kind == "both" else {}


def _dosage(amount: Amount, repeat: Repeat | None, **more: Any) -> Dosage:
    return Dosage(amounts=(amount,), timing=Timing(repeat=repeat) if repeat else None, **more)


@st.composite
def timed(draw: st.DrawFn, unit: str) -> tuple[Dosage, ...]:
    """Amounts at named times of day, each its own or the same at all."""
    codes = draw(moments)
    rhythm, held = draw(days(len(codes))), draw(bounds())
    if draw(st.booleans()):
        offset = draw(st.sampled_from((None, None, 30))) if all(code.startswith(("AC", "PC")) for code in codes) else None
        return (_dosage(draw(amounts(unit)), replace(rhythm, when=codes, offset=offset, **held)),)
    rhythm = draw(days(1).filter(lambda one: one.period_unit is TimeUnit.DAY)) if len(codes) > 1 else rhythm
    return tuple(_dosage(draw(amounts(unit)), replace(rhythm, when=(code,), frequency=1, **held)) for code in codes)


@st.composite
def at_clock(draw: st.DrawFn, unit: str) -> tuple[Dosage, ...]:
    times = draw(clocks)
    return (_dosage(draw(amounts(unit)), replace(draw(days(len(times))), time_of_day=times, **draw(bounds()))),)


@st.composite
def counted(draw: st.DrawFn, unit: str) -> tuple[Dosage, ...]:
    """How often, without when."""
    unit_of_time = draw(st.sampled_from((TimeUnit.DAY, TimeUnit.WEEK, TimeUnit.HOUR, TimeUnit.MONTH)))
    if unit_of_time is TimeUnit.HOUR:
        repeat = Repeat(frequency=1, period=Fraction(draw(st.integers(2, 72))), period_unit=unit_of_time)
    elif draw(st.booleans()):
        repeat = Repeat(frequency=draw(st.integers(1, 6)), period=Fraction(1), period_unit=unit_of_time)
    else:
        repeat = draw(days(1))
    return (_dosage(draw(amounts(unit)), replace(repeat, **draw(bounds()))),)


@st.composite
def wanted(draw: st.DrawFn, unit: str, lang: str) -> tuple[Dosage, ...]:
    """As needed, with or without how often, a reason and a maximum."""
    repeat = draw(
        st.sampled_from(
            (
                None,
                Repeat(frequency=1, frequency_max=4, period=Fraction(1), period_unit=TimeUnit.DAY),
                Repeat(frequency=3, period=Fraction(1), period_unit=TimeUnit.DAY),
                Repeat(frequency=1, period=Fraction(4), period_max=Fraction(6), period_unit=TimeUnit.HOUR),
                Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=("HS",)),
            )
        )
    )
    reason = draw(st.sampled_from((None, *REASONS[lang])))
    amount = draw(amounts(unit, wanted=True))
    high = amount.quantity or (amount.range.high if amount.range else None)
    assert high is not None
    limit = Maximum(high.times(draw(st.integers(2, 6))), Span(Fraction(24), TimeUnit.HOUR)) if draw(st.booleans()) else None
    return (_dosage(amount, repeat, as_needed=True, as_needed_for=Coding(text=reason) if reason else None, max_per_period=limit),)


@st.composite
def phased(draw: st.DrawFn, unit: str) -> tuple[Dosage, ...]:
    """One after the other, each but the last for a number of days."""
    number = draw(st.integers(2, 4))
    parts = []
    for at in range(number):
        repeat = draw(days(1).filter(lambda one: one.period_unit is TimeUnit.DAY and not one.cycle_length and not one.days_of_month))
        length = Span(Fraction(draw(st.integers(1, 30))), TimeUnit.DAY) if at < number - 1 or draw(st.booleans()) else None
        parts.append(
            _dosage(
                draw(amounts(unit)),
                replace(repeat, when=draw(st.sampled_from(((), ("MORN",), ("HS",)))), bounds_duration=length),
                sequence=at + 1,
            )
        )
    return tuple(parts)


@st.composite
def structures(draw: st.DrawFn, lang: str = "en") -> tuple[Dosage, ...]:
    """Any of them, in one unit."""
    unit = draw(st.sampled_from(UNITS))
    once = st.builds(lambda amount: (_dosage(amount, Repeat(count=1)),), amounts(unit))
    return draw(st.one_of(timed(unit), at_clock(unit), counted(unit), wanted(unit, lang), phased(unit), once))


def same_meaning(dosages: Sequence[Dosage]) -> list[object]:
    """Equal for structures that give the same doses: each moment of the day by itself, in a fixed order, defaults filled in."""
    return sorted((_moment(dosage, moment) for dosage in dosages for moment in _moments(dosage)), key=repr)


def _moments(dosage: Dosage) -> Sequence[object]:
    repeat = (dosage.timing.repeat if dosage.timing else None) or Repeat()
    return [*repeat.when, *repeat.time_of_day] or [None]


def _moment(dosage: Dosage, moment: object) -> object:
    repeat = (dosage.timing.repeat if dosage.timing else None) or Repeat()
    named = moment is not None
    limit = dosage.max_per_period
    day_limit = (
        limit and replace(limit, span=Span(Fraction(24), TimeUnit.HOUR))
        if limit and limit.span == Span(Fraction(1), TimeUnit.DAY)
        else limit
    )
    period, unit, often = repeat.period, repeat.period_unit, 1 if named else repeat.frequency
    if repeat.day_of_week and (period, unit) == (Fraction(1), TimeUnit.WEEK) and repeat.frequency == len(repeat.day_of_week):
        period, unit, often = Fraction(1), TimeUnit.DAY, 1
    plain = replace(repeat, when=(), time_of_day=(), period=period, period_unit=unit, frequency=often)
    return replace(dosage, timing=Timing(repeat=plain), route=None, max_per_period=day_limit), moment if not isinstance(
        moment, time
    ) else moment.isoformat()
