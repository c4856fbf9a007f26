"""Every regular pattern that a structure can hold, on every edge of the calendar, against `dateutil.rrule` in zones where clocks change.

The other oracle (`test_expand_oracle.py`) looks far into a course; this one goes through the kinds: how the rhythm is stated, by which
events or clock times, how it begins and ends. What has no single meaning must be asked, and nothing else may be: `Pattern.open_points`
names the reasons, from the calendar alone. A last test counts that all of this is reached.
"""

from calendar import monthrange
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from functools import cache
from zoneinfo import ZoneInfo

import pytest
from dateutil import rrule
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.regimen.regimen_makers import a_dosage, an_order, codes, every, moments

from dosewright.core.regimen.dosage import Period, Repeat, Span, TimeUnit, Weekday
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, DosingTime, Timetable
from dosewright.core.units.ids import SlotName

CLOCKS = {"MORN": time(8), "NOON": time(12), "EVE": time(18), "HS": time(22)}
BY_FREQUENCY = {1: (8,), 2: (8, 18), 3: (8, 12, 18), 4: (8, 12, 18, 22)}
ZONES = ("Europe/London", "America/New_York", "Australia/Lord_Howe", "UTC")
EDGES = (
    *(date(year, 2, day) for year in (2000, 2023, 2024, 2096) for day in (27, 28)),
    *(date(2024, 2, 29), date(2000, 2, 29), date(2100, 2, 28), date(2023, 12, 30), date(2023, 12, 31), date(2024, 1, 1), date(2026, 1, 31)),
    *(date(2026, 3, 28), date(2026, 10, 24), date(2026, 3, 7), date(2026, 10, 31), date(2026, 4, 4), date(2026, 4, 30), date(2024, 8, 31)),
)
ENDS = ("open", "start", "start at noon", "until", "until noon", "count", "count until")
LENGTHS = (TimeUnit.HOUR, TimeUnit.DAY, TimeUnit.WEEK, TimeUnit.MONTH, TimeUnit.YEAR)
anchors = st.sampled_from(EDGES) | st.dates(date(1995, 1, 1), date(2090, 12, 31))
Moments = list[tuple[date, time]]


@dataclass(frozen=True)
class Pattern:
    """A repeat, the same days for `rrule`, and its clock times. `days_of_month` are those that a month may lack."""

    kind: str
    repeat: Repeat
    rules: tuple[dict[str, object], ...]
    clocks: tuple[time, ...]
    anchor: date
    timetable: Timetable = STANDARD_TIMETABLE
    days_of_month: tuple[int, ...] = ()
    unclear: str = ""


@dataclass(frozen=True)
class Ends:
    """How the course begins and ends: the repeat's fields, and what they say by the calendar. `counts`: its days count from its start."""

    kind: str
    fields: dict[str, object]
    first: tuple[date, time] | None = None
    last: tuple[date, time] | None = None
    count: int | None = None
    counts: bool = False
    unclear: str = ""


WAYS = ("when", "timeOfDay", "how often")


@st.composite
def timed(draw: st.DrawFn, *ways: str, most: int = 4) -> tuple[str, dict[str, object], tuple[time, ...], int]:
    """When in the day: by events, by clock times (in any order), or by how often; the clock times, and how many."""
    kind = draw(st.sampled_from(ways))
    if kind == "how often":
        times = draw(st.integers(1, 4))
        return kind, {}, tuple(map(time, BY_FREQUENCY[times])), times
    chosen = draw(st.lists(st.sampled_from(sorted(CLOCKS)), min_size=1, max_size=most, unique=True))
    clocks = tuple(sorted(CLOCKS[code] for code in chosen))
    said: dict[str, object] = {"when": tuple(chosen)} if kind == "when" else {"time_of_day": tuple(CLOCKS[code] for code in chosen)}
    return kind, said, clocks, len(clocks)


def frequency_of(draw: st.DrawFn, kind: str, times: int) -> int | None:
    """Needed where nothing else says how often; else it may be left out."""
    return times if kind == "how often" or draw(st.booleans()) else None


@st.composite
def daily(draw: st.DrawFn, days: str, way: str) -> Pattern:
    """So many times a day, on all days, on some of the week, of the month or of a cycle."""
    kind, said, clocks, times = draw(timed(way))
    anchor = draw(anchors)
    repeat = every(frequency_of(draw, kind, times), 1, "d", **said)
    if days == "dayOfWeek":
        named = draw(st.lists(st.sampled_from(list(Weekday)), min_size=1, unique=True))
        rule: dict[str, object] = {"freq": rrule.WEEKLY, "byweekday": [day.number for day in named]}
        return Pattern(f"{days}, {kind}", replace(repeat, day_of_week=tuple(named)), (rule,), clocks, anchor)
    if days == "dayOfMonth":
        dates = tuple(draw(st.lists(st.integers(1, 31), min_size=1, max_size=4, unique=True)))
        rule = {"freq": rrule.MONTHLY, "bymonthday": sorted(dates)}
        return Pattern(f"{days}, {kind}", replace(repeat, days_of_month=dates), (rule,), clocks, anchor, days_of_month=dates)
    if days == "daysOfCycle":
        length = draw(st.integers(2, 35))
        numbers = tuple(draw(st.lists(st.integers(1, length), min_size=1, max_size=length, unique=True)))
        repeat = replace(repeat, days_of_cycle=numbers, cycle_length=length)
        rules: tuple[dict[str, object], ...] = tuple({"freq": rrule.DAILY, "interval": length, "later": number - 1} for number in numbers)
        return Pattern(f"{days}, {kind}", repeat, rules, clocks, anchor)
    return Pattern(f"{days}, {kind}", repeat, ({"freq": rrule.DAILY},), clocks, anchor)


@st.composite
def every_so_often(draw: st.DrawFn, unit: str) -> Pattern:
    """Every n days, weeks, months, years, or so many hours or minutes as make whole days; once each time, or at stated times of day."""
    per = {"h": 24, "min": 1440}.get(unit, 1)
    _, said, clocks, _ = draw(timed("when", "timeOfDay", most=4 if per == 1 else 1) | st.just(("once", {}, (time(8),), 1)))
    anchor, step = draw(anchors), draw(st.integers(1, 14))
    often = 1 if not said or per > 1 else None
    freq = {"d": rrule.DAILY, "wk": rrule.WEEKLY, "mo": rrule.MONTHLY, "a": rrule.YEARLY}.get(unit, rrule.DAILY)
    dates = (anchor.day,) if unit in ("mo", "a") else ()
    return Pattern(
        f"every n {unit}", every(often, step * per, unit, **said), ({"freq": freq, "interval": step},), clocks, anchor, days_of_month=dates
    )


@st.composite
def on_weekdays(draw: st.DrawFn) -> Pattern:
    """Every n weeks on these days, so many times in all as there are days and times."""
    kind, said, clocks, times = draw(timed("when", "timeOfDay") | st.just(("once", {}, (time(8),), 1)))
    anchor, step = draw(anchors), draw(st.integers(1, 5))
    named = draw(st.lists(st.sampled_from(list(Weekday)), min_size=1, unique=True))
    numbers = sorted(day.number for day in named)
    unit, period = draw(st.sampled_from([("wk", step), ("d", 7 * step)]))
    often = len(named) * times if kind == "once" or draw(st.booleans()) else None
    unclear = "timing.week-unclear" if step > 1 and anchor.weekday() != numbers[0] else ""
    rule: dict[str, object] = {"freq": rrule.WEEKLY, "interval": step, "byweekday": numbers}
    return Pattern("weeks on days", every(often, period, unit, day_of_week=tuple(named), **said), (rule,), clocks, anchor, unclear=unclear)


@st.composite
def on_month_days(draw: st.DrawFn) -> Pattern:
    """Every n months on these days of the month."""
    _, said, clocks, _ = draw(timed("when", "timeOfDay"))
    anchor, step = draw(anchors), draw(st.integers(1, 5))
    dates = tuple(draw(st.lists(st.integers(1, 31), min_size=1, max_size=4, unique=True)))
    unclear = "timing.month-unclear" if step > 1 and anchor.day > min(dates) else ""
    rule: dict[str, object] = {"freq": rrule.MONTHLY, "interval": step, "bymonthday": sorted(dates)}
    repeat = every(None, step, "mo", days_of_month=dates, **said)
    return Pattern("months on days", repeat, (rule,), clocks, anchor, days_of_month=dates, unclear=unclear)


@st.composite
def every_few_hours(draw: st.DrawFn, unit: str) -> Pattern:
    """Every so many hours, where the dosing times lie just so far apart."""
    hours = draw(st.sampled_from([2, 3, 4, 6, 8, 12]))
    begin, minute = draw(st.integers(0, hours - 1)), draw(st.sampled_from([0, 30]))
    clocks = tuple(time(hour, minute) for hour in range(begin, 24, hours))
    timetable = Timetable(tuple(DosingTime(SlotName(f"at {clock}"), clock, frozenset()) for clock in clocks))
    per = {"h": 1, "min": 60, "s": 3600}[unit]
    rules: tuple[dict[str, object], ...] = ({"freq": rrule.HOURLY, "interval": hours, "clock": clocks[0]},)
    return Pattern(f"every n {unit} of a day", every(1, hours * per, unit), rules, clocks, draw(anchors), timetable)


PATTERNS = {
    **{f"{days}, {way}": daily(days, way) for days in ("every day", "dayOfWeek", "dayOfMonth", "daysOfCycle") for way in WAYS},
    **{f"every n {unit}": every_so_often(unit) for unit in ("d", "wk", "mo", "a", "h", "min")},
    **{f"every n {unit} of a day": every_few_hours(unit) for unit in ("h", "min", "s")},
    "weeks on days": on_weekdays(),
    "months on days": on_month_days(),
}


@st.composite
def courses(draw: st.DrawFn, patterns: st.SearchStrategy[Pattern]) -> tuple[Pattern, Ends]:
    """A pattern and its ends."""
    pattern = draw(patterns)
    anchor = pattern.anchor
    kind = draw(st.sampled_from([*ENDS, *LENGTHS]))
    day, clock = anchor + timedelta(days=draw(st.integers(0, 80))), time(12)
    count = draw(st.integers(1, 30))
    begun: dict[str, object] = {"bounds_period": Period(anchor)}
    stated: dict[str, Ends] = {
        "open": Ends(kind, {}),
        "start": Ends(kind, begun, (anchor, time(0))),
        "start at noon": Ends(kind, {"bounds_period": Period(datetime.combine(anchor, clock, UTC))}, (anchor, clock)),
        "until": Ends(kind, {"bounds_period": Period(anchor, day)}, (anchor, time(0)), (day, time.max)),
        "until noon": Ends(kind, {"bounds_period": Period(anchor, datetime.combine(day, clock, UTC))}, (anchor, time(0)), (day, clock)),
        "count": Ends(kind, {**begun, "count": count}, (anchor, time(0)), count=count, counts=True),
        "count until": Ends(
            kind, {"bounds_period": Period(anchor, day), "count": count}, (anchor, time(0)), (day, time.max), count, counts=True
        ),
    }
    return pattern, stated[kind] if kind in stated else draw(lengths(anchor, TimeUnit(kind)))


@st.composite
def lengths(draw: st.DrawFn, anchor: date, unit: TimeUnit) -> Ends:
    """For so many hours (of whole days), days, weeks, months, years; a month that lacks the day has no such end."""
    value = draw(st.integers(1, {TimeUnit.DAY: 60, TimeUnit.YEAR: 2}.get(unit, 8)))
    after = (
        anchor
        + {
            TimeUnit.HOUR: relativedelta(days=value),
            TimeUnit.DAY: relativedelta(days=value),
            TimeUnit.WEEK: relativedelta(weeks=value),
            TimeUnit.MONTH: relativedelta(months=value),
            TimeUnit.YEAR: relativedelta(years=value),
        }[unit]
    )
    by_calendar = unit in (TimeUnit.MONTH, TimeUnit.YEAR)
    span = Span(Fraction(value * (24 if unit is TimeUnit.HOUR else 1)), unit)
    fields: dict[str, object] = {"bounds_range": (span, span)} if draw(st.booleans()) else {"bounds_duration": span}
    unclear = "timing.length-unusable" if by_calendar and after.day != anchor.day else ""
    return Ends(f"for n {unit}", fields, (anchor, time(0)), (after - timedelta(days=1), time.max), counts=True, unclear=unclear)


def by_rrule(pattern: Pattern, ends: Ends, until: date, zone: ZoneInfo) -> Moments:
    """Every moment from the anchor to that day, laid out in a zone whose clocks change: the clock time stays."""
    found: set[tuple[date, time]] = set()
    for rule in pattern.rules:
        fields = dict(rule)
        later, clocks = fields.pop("later", 0), (fields.pop("clock"),) if "clock" in fields else pattern.clocks
        for clock in clocks:
            begin = pattern.anchor + timedelta(days=later)  # type: ignore[arg-type]
            naive = fields["freq"] == rrule.HOURLY  # an interval of hours runs by the clock on the wall, as the dosing times do
            start = datetime.combine(begin, clock, None if naive else zone)  # type: ignore[arg-type]
            last = datetime.combine(until + timedelta(days=2), time(0), None if naive else UTC)
            moments_of = rrule.rrule(dtstart=start, until=last, **fields)  # type: ignore[arg-type]
            found.update((moment.date(), moment.time()) for moment in moments_of)
    kept = sorted(moment for moment in found if moment[0] <= until and not (ends.first and moment < ends.first))
    kept = kept[: ends.count] if ends.count is not None else kept
    return [moment for moment in kept if not (ends.last and moment > ends.last)]


def lacking(pattern: Pattern, first: date, last: date) -> Iterator[date]:
    """The months of the rhythm, up to `last`, that lack one of its days: their last day, where it is not before `first`."""
    month, rule = pattern.anchor.replace(day=1), pattern.rules[0]
    step = int(str(rule.get("interval", 1))) * (12 if rule["freq"] == rrule.YEARLY else 1)
    while month <= last:
        length = monthrange(month.year, month.month)[1]
        if any(day > length for day in pattern.days_of_month) and month.replace(day=length) >= first:
            yield month.replace(day=length)
        month = month + relativedelta(months=step)


def open_points(pattern: Pattern, ends: Ends, first: date, last: date) -> tuple[set[str], set[str]]:
    """What must be asked, and what may be besides."""
    must, may = {ends.unclear, *_starts_late(pattern, ends)} - {""}, {pattern.unclear} - {""}
    if ends.kind == "count until" and _is_cut_short(pattern, ends):
        must.add("timing.count-against-bounds")
    begin = pattern.anchor if ends.counts else max(first, pattern.anchor if ends.first else first)
    end = min(last, ends.last[0]) if ends.last else last
    if ends.count is not None:
        end = min(end, _counted_day(pattern, ends, end))
    if begin <= end:  # a stretch without days raises no doubt about its days
        must |= may
    if pattern.days_of_month and max(pattern.days_of_month) > 28:
        may.add("timing.month-too-short")
        since = pattern.anchor if pattern.kind in ("every n mo", "every n a") else max(begin, pattern.anchor)
        if begin <= end and any(since <= month_end <= end for month_end in lacking(pattern, since, end)):
            must.add("timing.month-too-short")
    return must, must | may


def _counted_day(pattern: Pattern, ends: Ends, until: date) -> date:
    """The day of the last dose counted, as if every month had every day."""
    days = [day for day, _ in by_rrule(pattern, replace(ends, count=None, last=None), max(until, pattern.anchor), ZoneInfo("UTC"))]
    for month_end in lacking(pattern, pattern.anchor, until):
        missing = [day for day in pattern.days_of_month if day > month_end.day]
        days += [month_end] * len(missing) * len(pattern.clocks)
    return max(sorted(days)[: ends.count], default=until) if len(days) >= (ends.count or 0) else until


def _starts_late(pattern: Pattern, ends: Ends) -> Iterator[str]:
    """From noon on: whether the first day of a rhythm is this one or the next is not said; an interval runs from the very hour."""
    if ends.kind != "start at noon":
        return
    leaves_out = any(clock < time(12) for clock in pattern.clocks) and not _is_plain(pattern)
    if leaves_out or (pattern.repeat.period_unit in (TimeUnit.HOUR, TimeUnit.MINUTE, TimeUnit.SECOND) and time(12) not in pattern.clocks):
        yield "timing.starts-within-a-day"


def _is_cut_short(pattern: Pattern, ends: Ends) -> bool:
    assert ends.last
    whole = by_rrule(pattern, replace(ends, count=None), ends.last[0], ZoneInfo("UTC"))
    return len(whole) < (ends.count or 0)


def _is_plain(pattern: Pattern) -> bool:
    """Every day, or each week: nothing hangs on where it starts."""
    rule, repeat = pattern.rules[0], pattern.repeat
    all_of_cycle = bool(repeat.cycle_length) and len(repeat.days_of_cycle) == repeat.cycle_length
    one = rule.get("interval", 1) == 1 and rule["freq"] in (rrule.DAILY, rrule.WEEKLY) and pattern.kind != "every n wk"
    monthly = rule.get("interval", 1) == 1 and bool(repeat.days_of_month)
    return all_of_cycle or one or monthly or "of a day" in pattern.kind


windows = st.tuples(st.integers(-30, 120) | st.integers(300, 1500), st.integers(0, 150) | st.integers(366, 800))


def check(case: tuple[Pattern, Ends], window: tuple[int, int], zone: str) -> tuple[str, Moments]:
    """Expand, lay out with `rrule`, compare; what became of it, and the moments."""
    pattern, ends = case
    repeat = replace(pattern.repeat, **ends.fields)  # type: ignore[arg-type]
    first = pattern.anchor + timedelta(days=window[0])
    last = first + timedelta(days=window[1] - 1)
    found = expand(an_order(a_dosage(repeat), anchor=pattern.anchor), pattern.timetable, first, window[1])
    must, may = open_points(pattern, ends, first, last)
    if found.status is ExpansionStatus.DECIDE:
        assert set(codes(found)) <= may, (codes(found), may)
        return "asked", []
    assert found.status is ExpansionStatus.SCHEDULED, found
    assert not must, must
    wanted = [moment for moment in by_rrule(pattern, ends, max(last, pattern.anchor), ZoneInfo(zone)) if first <= moment[0] <= last]
    given_from = [moment for moment in moments(found) if moment[0] >= pattern.anchor]
    assert given_from == wanted
    assert given_from == moments(found) or not ends.first, "before its start"
    return "scheduled", wanted


def edges_of(day: date) -> Iterator[str]:
    """Which edge of the calendar a day is. Clock changes: last Sundays of March and October (Europe), second of March and first of November
    (United States)."""
    after = day + timedelta(days=1)
    sunday = day.weekday() == 6
    names = {
        "leap day": (day.month, day.day) == (2, 29),
        "28 February of a common year": (after.month, after.day, day.month) == (3, 1, 2) and day.day == 28,
        "month end": after.day == 1,
        "31st": day.day == 31,
        "year end": (day.month, day.day) == (12, 31),
        "new year": (day.month, day.day) == (1, 1),
        "clocks forward": sunday and ((day.month == 3 and day.day >= 25) or (day.month == 3 and 8 <= day.day <= 14)),
        "clocks back": sunday and ((day.month == 10 and day.day >= 25) or (day.month == 11 and day.day <= 7)),
    }
    return (name for name, here in names.items() if here)


@cache
def gone_through(name: str) -> Counter[str]:
    """Many courses of one kind of pattern, each checked; how often each outcome, kind and edge was reached."""
    reached: Counter[str] = Counter()

    @settings(deadline=None, max_examples=50)
    @given(courses(PATTERNS[name]), windows, st.sampled_from(ZONES))
    def check_and_count(case: tuple[Pattern, Ends], window: tuple[int, int], zone: str) -> None:
        outcome, doses = check(case, window, zone)
        reached.update([outcome, *([case[0].kind, case[1].kind] if doses else [])])
        reached.update({edge for day, _ in doses for edge in edges_of(day)})

    check_and_count()
    return reached


@pytest.mark.parametrize("name", PATTERNS)
def test_any_course_gives_what_an_independent_calendar_gives_or_asks_for_a_reason(name: str) -> None:
    assert gone_through(name)[name] >= 1, "doses were compared"


def test_the_courses_above_reach_every_kind_and_every_edge_of_the_calendar() -> None:
    """Each way to state a rhythm, each way to end it, asked and scheduled; doses on each edge."""
    reached = sum((gone_through(name) for name in PATTERNS), Counter[str]())
    ends = [*ENDS, *(f"for n {unit}" for unit in LENGTHS)]
    edges = ["leap day", "28 February of a common year", "month end", "31st", "year end", "new year", "clocks forward", "clocks back"]
    assert not [name for name in (*PATTERNS, *ends, *edges, "asked", "scheduled") if reached[name] < 3], reached


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize(
    "day", [date(2026, 3, 29), date(2026, 10, 25), date(2026, 3, 8), date(2026, 11, 1), date(2026, 4, 5), date(2026, 10, 4)]
)
def test_the_day_on_which_clocks_change_has_the_doses_of_any_other(day: date, zone: str) -> None:
    """Last Sundays of March and October in the European Union, second of March and first of November in the United States, first of
    April and October in Australia (from memory)."""
    found = expand(an_order(a_dosage(every(4, 1, "d"))), STANDARD_TIMETABLE, day - timedelta(days=1), 3)
    wall = [datetime.combine(day + timedelta(days=shift), clock, ZoneInfo(zone)) for shift in (-1, 0, 1) for clock in CLOCKS.values()]
    assert moments(found) == [(moment.date(), moment.time()) for moment in wall]
