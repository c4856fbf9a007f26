"""Dosages and FHIR structures drawn at random: valid ones, and ones with anything wrong anywhere."""

from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal
from fractions import Fraction

from hypothesis import strategies as st

from dosewright.core.interop.json_text import JsonValue
from dosewright.core.regimen.dosage import Amount, Coding, Dosage, Maximum, Period, Range, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.regimen.event_timing import EVENT_CODES
from dosewright.core.units.quantity import Quantity, Unit

words = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "Zs"]), min_size=1, max_size=12).filter(lambda text: text.strip())
decimals = st.decimals(0, 10**6, places=3, allow_nan=False).map(Fraction)
small = st.integers(1, 400)
days = st.dates(date(1990, 1, 1), date(2060, 12, 31))
zones = st.none() | st.just(UTC) | st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
clocks = st.times().map(lambda clock: clock.replace(microsecond=0))
moments = days | st.builds(datetime.combine, days, clocks, zones)
quantities = st.builds(Quantity, decimals, st.sampled_from(["tablet", "capsule", "mg", "mL", "microgram", "", "lozenge"]).map(Unit))
spans = st.builds(Span, decimals, st.sampled_from(TimeUnit))
maybe_coding = st.builds(Coding, st.just(""), st.just(""), words) | st.builds(
    Coding, st.just("http://example.org/codes"), words.map(str.strip), st.just("")
)


@st.composite
def months_or_moments(draw: st.DrawFn) -> Period:
    """A period whose start may be only a month."""
    end = draw(st.none() | moments)
    if draw(st.booleans()):
        return Period(draw(moments), end)
    first = draw(days).replace(day=1)
    last = (first + timedelta(days=31)).replace(day=1) - timedelta(days=1)
    return Period(first, end, last)


@st.composite
def repeats(draw: st.DrawFn) -> Repeat:
    bounds = draw(st.sampled_from(["period", "duration", "range", "none"]))
    length = draw(st.none() | st.integers(2, 90))
    listed = draw(st.lists(st.integers(1, length), min_size=1, max_size=5, unique=True)) if length else []
    return Repeat(
        bounds_period=draw(months_or_moments()) if bounds == "period" else None,
        bounds_duration=draw(spans) if bounds == "duration" else None,
        bounds_range=(draw(spans), draw(st.none() | spans)) if bounds == "range" else None,
        count=draw(st.none() | small),
        count_max=draw(st.none() | small),
        duration=draw(st.none() | decimals),
        duration_max=draw(st.none() | decimals),
        duration_unit=draw(st.none() | st.sampled_from(TimeUnit)),
        frequency=draw(st.none() | small),
        frequency_max=draw(st.none() | small),
        period=Fraction(length) if length else draw(st.none() | decimals),
        period_max=draw(st.none() | decimals),
        period_unit=TimeUnit.DAY if length else draw(st.none() | st.sampled_from(TimeUnit)),
        day_of_week=tuple(draw(st.lists(st.sampled_from(Weekday), max_size=3))),
        time_of_day=tuple(draw(st.lists(clocks, max_size=3))),
        when=tuple(draw(st.lists(st.sampled_from(sorted(EVENT_CODES)), max_size=3))),
        offset=draw(st.none() | st.integers(0, 600)),
        days_of_cycle=tuple(listed),
        cycle_length=length,
        days_of_month=tuple(draw(st.lists(st.integers(1, 31), max_size=3))),
    )


timings = st.builds(
    Timing,
    events=st.lists(moments, max_size=3).map(tuple),
    repeat=repeats().filter(lambda repeat: repeat != Repeat()),
    code=st.none() | maybe_coding,
)
amounts = st.builds(Amount, quantity=quantities) | st.builds(Amount, range=st.builds(Range, quantities, st.none() | quantities))


@st.composite
def dosages(draw: st.DrawFn) -> Dosage:
    """Any dosage that FHIR R4 can hold, sensible or not."""
    reason = draw(st.none() | maybe_coding)
    return (
        Dosage(
            text=draw(st.just("") | words),
            sequence=draw(st.none() | st.integers(-5, 50)),
            additional=tuple(draw(st.lists(maybe_coding, max_size=2))),
            patient_instruction=draw(st.just("") | words),
            timing=draw(st.none() | timings),
            as_needed=reason is not None or draw(st.booleans()),
            as_needed_for=reason,
            route=draw(st.none() | maybe_coding),
            amounts=tuple(draw(st.lists(amounts, max_size=2))),
            max_per_period=draw(st.none() | st.builds(Maximum, quantities, spans)),
            max_per_administration=draw(st.none() | quantities),
            max_per_lifetime=draw(st.none() | quantities),
        )
        if draw(st.booleans())
        else Dosage(text=draw(words), timing=draw(timings))
    )


anything = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**12), 10**12)
    | st.decimals(-(10**6), 10**6, places=2).map(Decimal)
    | words
    | st.sampled_from(["2026-03-02", "08:00:00", "d", "MORN", "mon", "0001-01-01", "9999-12-31", "2026-02-30", "BID", "tablet"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(words | st.sampled_from(["timing", "repeat", "extension", "url", "value"]), inner, max_size=3)
    ),
    max_leaves=8,
)


def places(value: JsonValue, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Where something stands in a structure: the way to every value in it, the whole first."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(place for name, held in inner for place in places(held, (*path, name)))]


def changed(value: JsonValue, path: tuple[str | int, ...], new: JsonValue) -> JsonValue:
    """The same structure with another value in one place."""
    if not path:
        return new
    name, *rest = path
    if isinstance(value, dict):
        return {key: changed(held, tuple(rest), new) if key == name else held for key, held in value.items()}
    assert isinstance(value, list)
    return [changed(held, tuple(rest), new) if place == name else held for place, held in enumerate(value)]
