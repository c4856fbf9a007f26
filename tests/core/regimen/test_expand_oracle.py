"""Every regular pattern against `dateutil.rrule`, which shares nothing with our arithmetic; and what no window may change."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction

from dateutil import rrule
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.regimen.regimen_makers import a_dosage, an_order, every, moments

from dosewright.core.regimen.dosage import Period, Repeat, Span, TimeUnit, Weekday
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment

HOURS = {"MORN": 8, "NOON": 12, "EVE": 18, "HS": 22}

anchors = st.dates(date(1990, 1, 1), date(2060, 12, 31))
windows = st.tuples(
    st.integers(-40, 300) | st.integers(-400, 1500), st.integers(0, 250)
)  # days from the anchor to the window, and its length
whens = st.lists(st.sampled_from(sorted(HOURS)), min_size=1, max_size=4, unique=True).map(tuple)
ends = st.one_of(
    st.none(),
    st.tuples(st.just("count"), st.integers(1, 20) | st.integers(1, 200)),
    st.tuples(st.just("until"), st.integers(0, 900)),
)


@st.composite
def patterns(draw: st.DrawFn) -> tuple[Repeat, dict[str, object], date]:
    """A repeat, the same recurrence for `rrule`, and its first day."""
    anchor, when = draw(anchors), draw(whens)
    step = draw(st.integers(1, 13))
    weekdays = tuple(sorted(draw(st.sets(st.sampled_from(list(Weekday)), min_size=1)), key=lambda day: day.number))
    match draw(st.sampled_from(["days", "weekdays", "weeks", "months", "month days", "years"])):
        case "days":
            return every(None, step, "d", when=when), {"freq": rrule.DAILY, "interval": step}, anchor
        case "weekdays":
            fields = {"freq": rrule.WEEKLY, "byweekday": [day.number for day in weekdays]}
            return Repeat(day_of_week=weekdays, when=when), fields, anchor
        case "weeks":
            anchor += timedelta(days=(weekdays[0].number - anchor.weekday()) % 7)
            fields = {"freq": rrule.WEEKLY, "interval": step, "byweekday": [day.number for day in weekdays]}
            frequency = len(weekdays) * len(when)
            return every(frequency, step, "wk", day_of_week=weekdays, when=when), fields, anchor
        case "months":
            anchor = anchor.replace(day=min(anchor.day, 28))
            return every(None, step, "mo", when=when), {"freq": rrule.MONTHLY, "interval": step}, anchor
        case "years":
            anchor = anchor.replace(day=min(anchor.day, 28))
            return every(None, step, "a", when=when), {"freq": rrule.YEARLY, "interval": step}, anchor
        case _:
            days = sorted(draw(st.sets(st.integers(1, 28), min_size=1, max_size=5)))
            return Repeat(days_of_month=tuple(days), when=when), {"freq": rrule.MONTHLY, "bymonthday": days}, anchor


def bounded(repeat: Repeat, anchor: date, end: tuple[str, int] | None) -> Repeat:
    match end:
        case ("count", count):
            return replace(repeat, bounds_period=Period(anchor), count=count)
        case ("until", days):
            return replace(repeat, bounds_period=Period(anchor, anchor + timedelta(days=days)))
    return replace(repeat, bounds_period=Period(anchor))


def oracle(fields: dict[str, object], when: tuple[str, ...], anchor: date, end: tuple[str, int] | None) -> rrule.rrule:
    limits: dict[str, object] = {}
    if end:
        limits = {"count": end[1]} if end[0] == "count" else {"until": datetime.combine(anchor + timedelta(days=end[1]), time(23))}
    hours = sorted(HOURS[code] for code in when)
    return rrule.rrule(dtstart=datetime.combine(anchor, time(0)), byhour=hours, byminute=0, bysecond=0, **fields, **limits)  # type: ignore[arg-type]


@settings(deadline=None, max_examples=500)
@given(patterns(), windows, ends)
def test_every_regular_pattern_gives_the_days_that_an_independent_calendar_gives(
    pattern: tuple[Repeat, dict[str, object], date], window: tuple[int, int], end: tuple[str, int] | None
) -> None:
    repeat, fields, anchor = pattern
    first = anchor + timedelta(days=window[0])
    found = expand(an_order(a_dosage(bounded(repeat, anchor, end))), STANDARD_TIMETABLE, first, window[1])
    begin = datetime.combine(first, time(0))
    wanted = oracle(fields, repeat.when, anchor, end).between(begin, begin + timedelta(days=window[1], seconds=-1), inc=True)
    assert found.status is ExpansionStatus.SCHEDULED
    assert moments(found) == [(moment.date(), moment.time()) for moment in wanted]


@settings(deadline=None, max_examples=150)
@given(patterns(), windows, ends, st.integers(0, 120))
def test_two_windows_give_what_one_gives(
    pattern: tuple[Repeat, dict[str, object], date], window: tuple[int, int], end: tuple[str, int] | None, cut: int
) -> None:
    """A cycle that begins in the middle of a rhythm never shifts it."""
    repeat, _, anchor = pattern
    order = an_order(a_dosage(bounded(repeat, anchor, end)))
    first, days = anchor + timedelta(days=window[0]), window[1]
    cut = min(cut, days)
    whole = expand(order, STANDARD_TIMETABLE, first, days)
    parts = (
        *expand(order, STANDARD_TIMETABLE, first, cut).doses,
        *expand(order, STANDARD_TIMETABLE, first + timedelta(days=cut), days - cut).doses,
    )
    assert whole.doses == parts


@settings(deadline=None, max_examples=100)
@given(patterns(), st.integers(-60, 60), st.integers(0, 60), st.integers(0, 23))
def test_an_order_gives_exactly_the_doses_within_its_force(
    pattern: tuple[Repeat, dict[str, object], date], begins: int, lasts: int, hour: int
) -> None:
    """From `since` up to, not including, `until`; the rhythm still runs from the structure's own start."""
    repeat, _, anchor = pattern
    repeat = bounded(repeat, anchor, None)
    since = Moment(anchor + timedelta(days=begins), time(hour))
    until = Moment(anchor + timedelta(days=begins + lasts), time(hour))
    first = anchor - timedelta(days=70)
    free = expand(an_order(a_dosage(repeat)), STANDARD_TIMETABLE, first, 200)
    held = expand(an_order(a_dosage(repeat), since=since, until=until), STANDARD_TIMETABLE, first, 200)
    assert held.doses == tuple(dose for dose in free.doses if since <= Moment(dose.day, dose.time) < until)


@settings(deadline=None)
@given(anchors, st.integers(1, 40), st.integers(-30, 400), st.integers(1, 12))
def test_a_course_of_so_many_days_gives_a_dose_on_each_of_them(anchor: date, length: int, offset: int, window: int) -> None:
    repeat = replace(every(1, 1, "d", when=("HS",)), bounds_duration=Span(Fraction(length), TimeUnit.DAY))
    first = anchor + timedelta(days=offset)
    found = expand(an_order(a_dosage(repeat), anchor=anchor), STANDARD_TIMETABLE, first, window)
    days = [first + timedelta(days=day) for day in range(window)]
    assert [dose.day for dose in found.doses] == [day for day in days if anchor <= day < anchor + timedelta(days=length)]


@settings(deadline=None)
@given(anchors, st.integers(-3, 3), st.lists(st.integers(1, 60), min_size=1, max_size=5))
def test_phases_follow_one_another_without_gap_or_overlap(anchor: date, early: int, lengths: list[int]) -> None:
    dosages = [
        a_dosage(replace(every(1, 1, "d", when=("MORN",)), bounds_duration=Span(Fraction(length), TimeUnit.DAY)), sequence=place * 2)
        for place, length in enumerate(lengths)
    ]
    found = expand(an_order(*reversed(dosages), anchor=anchor), STANDARD_TIMETABLE, anchor - timedelta(days=early), 400)
    wanted = [anchor + timedelta(days=day) for day in range(sum(lengths)) if day >= -early]
    assert [dose.day for dose in found.doses] == wanted
