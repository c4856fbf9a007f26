"""Structures as prescribers order them, drawn at random, and the form in which two that mean the same are equal."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from dosewright.core.regimen.dosage import Amount, Coding, Dosage, Maximum, Period, Range, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.units.quantity import Quantity, Unit

UNITS = (
    "tablet", "tablet", "capsule", "caplet", "pill", "lozenge", "sachet", "patch", "drop", "puff", "spray", "suppository", "pessary",
    "ampoule", "vial", "spoonful", "teaspoonful", "tablespoonful", "measure", "application", "dose", "piece",
    "mg", "microgram", "g", "mL", "mmol", "unit", "",
)  # fmt: skip
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
BESIDE = {"en": ("with food", "swallow whole"), "fr": ("à jeun",), "es": ("en ayunas", "sin masticar"), "de": ("nüchtern", "unzerkaut")}

counts = st.sampled_from(
    [
        Fraction(n, d)
        for n, d in ((1, 1), (2, 1), (3, 1), (10, 1), (1, 2), (3, 2), (5, 2), (1, 4), (3, 4), (500, 1), (25, 2), (1000, 1), (1, 8))
    ]
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


def _month_days(found: set[int]) -> tuple[int, ...]:
    return tuple(sorted(found))


@st.composite
def days(draw: st.DrawFn, moments_each_day: int) -> Repeat:
    """On which days, or how often in them."""
    daily = Repeat(frequency=moments_each_day, period=Fraction(1), period_unit=TimeUnit.DAY)
    some_days = st.sets(st.sampled_from(tuple(Weekday)), min_size=1, max_size=6)
    cycles = st.tuples(st.integers(1, 3), st.integers(5, 24), st.integers(1, 10))
    kinds: list[st.SearchStrategy[dict[str, Any]]] = [
        st.just({}),
        st.just({}),
        st.builds(lambda apart: {"period": Fraction(apart)}, st.integers(2, 30)),
        st.builds(lambda some: {"day_of_week": tuple(day for day in Weekday if day in some)}, some_days),
        st.builds(lambda some: {"days_of_month": _month_days(some)}, st.sets(st.integers(1, 28), min_size=1, max_size=4)),
        st.builds(lambda last: {"days_of_month": tuple(range(1, last + 1))}, st.integers(2, 14)),
        st.builds(lambda c: {"days_of_cycle": tuple(range(c[0], c[0] + c[1])), "cycle_length": sum(c)}, cycles),
    ]
    if moments_each_day == 1:
        weeks = st.integers(2, 6).map(lambda apart: {"period": Fraction(apart), "period_unit": TimeUnit.WEEK})
        kinds.append(st.builds(lambda found, day: {**found, "day_of_week": (day,)}, weeks, st.sampled_from(tuple(Weekday))))
        units = st.sampled_from((TimeUnit.WEEK, TimeUnit.MONTH))
        kinds.append(st.builds(lambda apart, unit: {"period": Fraction(apart), "period_unit": unit}, st.integers(1, 6), units))
    return replace(daily, **draw(st.one_of(kinds)))


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
    if draw(st.sampled_from((False, False, False, True))):
        around = (draw(st.sampled_from(("ACM", "ACD", "ACV", "PCM", "PCD", "PCV"))),)
        return (_dosage(draw(amounts(unit)), replace(draw(days(1)), when=around, offset=draw(st.integers(2, 120)), **draw(bounds()))),)
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
                Repeat(frequency=2, period=Fraction(1), period_unit=TimeUnit.DAY, when=("MORN", "EVE")),
            )
        )
    )
    reason = draw(st.sampled_from((None, *REASONS.get(lang, ()))))
    amount = draw(amounts(unit, wanted=True))
    high = amount.quantity or (amount.range.high if amount.range else None)
    assert high is not None
    limit = Maximum(high.times(draw(st.integers(2, 6))), Span(Fraction(24), TimeUnit.HOUR)) if draw(st.booleans()) else None
    return (_dosage(amount, repeat, as_needed=True, as_needed_for=Coding(text=reason) if reason else None, max_per_period=limit),)


@st.composite
def phased(draw: st.DrawFn, unit: str) -> tuple[Dosage, ...]:
    """One after the other, each but the last for a number of days; in each one amount, or several at times of day."""
    number = draw(st.integers(2, 4))
    parts: list[Dosage] = []
    for at in range(number):
        unit_of_length = draw(st.sampled_from((TimeUnit.DAY, TimeUnit.DAY, TimeUnit.WEEK)))
        length = Span(Fraction(draw(st.integers(1, 30))), unit_of_length) if at < number - 1 or draw(st.booleans()) else None
        parts += [replace(one, sequence=at + 1) for one in draw(_phase(unit, length))]
    return tuple(parts)


@st.composite
def _phase(draw: st.DrawFn, unit: str, length: Span | None) -> tuple[Dosage, ...]:
    daily = Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, bounds_duration=length)
    kind = draw(st.sampled_from(("rhythm", "several", "often", "hours", "clock")))
    if kind == "several":
        codes = draw(st.lists(st.sampled_from(WHENS), min_size=2, max_size=3, unique_by=SLOTS.__getitem__))
        return tuple(_dosage(draw(amounts(unit)), replace(daily, when=(code,))) for code in codes)
    if kind == "often":
        return (_dosage(draw(amounts(unit)), replace(daily, frequency=draw(st.integers(2, 4)))),)
    if kind == "hours":
        return (_dosage(draw(amounts(unit)), replace(daily, period=Fraction(draw(st.integers(4, 24))), period_unit=TimeUnit.HOUR)),)
    if kind == "clock":
        times = draw(clocks)
        return (_dosage(draw(amounts(unit)), replace(daily, frequency=len(times), time_of_day=times)),)
    plain = days(1).filter(lambda one: one.period_unit is TimeUnit.DAY and not one.cycle_length and not one.days_of_month)
    when = draw(st.sampled_from(((), ("MORN",), ("HS",))))
    return (_dosage(draw(amounts(unit)), replace(draw(plain), when=when, bounds_duration=length)),)


@st.composite
def by_weekday(draw: st.DrawFn, unit: str) -> tuple[Dosage, ...]:
    """Two amounts, each on its own days of the week, all of them or some."""
    order = draw(st.permutations(tuple(Weekday)))
    first, last = draw(st.integers(1, 3)), draw(st.integers(4, 7))
    daily = Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, **draw(bounds()))
    when = draw(st.sampled_from(((), ("MORN",), ("HS",), ("CV",))))
    return tuple(
        _dosage(draw(amounts(unit)), replace(daily, when=when, day_of_week=tuple(day for day in Weekday if day in some)))
        for some in (order[:first], order[first:last])
    )


@st.composite
def structures(draw: st.DrawFn, lang: str = "en") -> tuple[Dosage, ...]:
    """Any of them, in one unit."""
    unit = draw(st.sampled_from(UNITS))
    once = st.builds(lambda amount: (_dosage(amount, Repeat(count=1)),), amounts(unit))
    kinds = (timed(unit), at_clock(unit), counted(unit), wanted(unit, lang), phased(unit), by_weekday(unit), once)
    found = draw(st.one_of(kinds))
    beside = draw(st.sampled_from(((), (), *((Coding(text=text),) for text in BESIDE.get(lang, ())))))
    return tuple(replace(dosage, additional=beside) for dosage in found)


FEATURES: dict[str, Callable[[Dosage, Repeat], object]] = {
    "phases": lambda dosage, _: dosage.sequence,
    "a second phase": lambda dosage, _: dosage.sequence == 2,
    "as needed": lambda dosage, _: dosage.as_needed,
    "a reason": lambda dosage, _: dosage.as_needed_for,
    "a maximum": lambda dosage, _: dosage.max_per_period,
    "an instruction": lambda dosage, _: dosage.additional,
    "a range of amounts": lambda dosage, _: dosage.amounts[0].range,
    "a part of a unit": lambda dosage, _: dosage.amounts[0].quantity and dosage.amounts[0].quantity.count.denominator > 1,
    "thousands": lambda dosage, _: dosage.amounts[0].quantity and dosage.amounts[0].quantity.count == 1000,
    "no unit": lambda dosage, _: dosage.amounts[0].quantity and not dosage.amounts[0].quantity.unit,
    "times of day": lambda _, repeat: repeat.when,
    "several times of day": lambda _, repeat: len(repeat.when) > 1,
    "a meal": lambda _, repeat: any(code[-1] in "MDV" and len(code) < 4 for code in repeat.when),
    "an offset": lambda _, repeat: repeat.offset,
    "clock times": lambda _, repeat: repeat.time_of_day,
    "how often only": lambda _, repeat: (repeat.frequency or 0) > 1 and not repeat.when and not repeat.time_of_day,
    "up to so often": lambda _, repeat: repeat.frequency_max,
    "hours": lambda _, repeat: repeat.period_unit is TimeUnit.HOUR,
    "a range of hours": lambda _, repeat: repeat.period_max,
    "days apart": lambda _, repeat: repeat.period_unit is TimeUnit.DAY and (repeat.period or 0) > 1,
    "weeks": lambda _, repeat: repeat.period_unit is TimeUnit.WEEK,
    "months": lambda _, repeat: repeat.period_unit is TimeUnit.MONTH,
    "weekdays": lambda _, repeat: repeat.day_of_week,
    "a weekday some weeks apart": lambda _, repeat: repeat.day_of_week and repeat.period_unit is TimeUnit.WEEK,
    "days of the month": lambda _, repeat: len(repeat.days_of_month) > 1,
    "a cycle": lambda _, repeat: repeat.cycle_length,
    "a length": lambda _, repeat: repeat.bounds_duration,
    "a first day": lambda _, repeat: repeat.bounds_period and repeat.bounds_period.start,
    "a last day": lambda _, repeat: repeat.bounds_period and repeat.bounds_period.end,
    "one dose in all": lambda _, repeat: repeat.count,
}


def features(dosages: Sequence[Dosage]) -> set[str]:
    """What the structure holds, by the names above."""
    pairs = [(dosage, (dosage.timing.repeat if dosage.timing else None) or Repeat()) for dosage in dosages]
    return {name for name, holds in FEATURES.items() if any(holds(dosage, repeat) for dosage, repeat in pairs)}


def same_meaning(dosages: Sequence[Dosage]) -> list[object]:
    """Equal for structures that give the same doses: each moment of the day by itself, in a fixed order, defaults filled in. Instructions
    stand beside the whole order, and a sentence begins with a capital.
    """
    beside = sorted({one.text.casefold() for dosage in dosages for one in dosage.additional})
    return [beside, *sorted((_moment(dosage, moment) for dosage in dosages for moment in _moments(dosage)), key=repr)]


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
    return replace(dosage, timing=Timing(repeat=plain), route=None, additional=(), max_per_period=day_limit), moment if not isinstance(
        moment, time
    ) else moment.isoformat()
