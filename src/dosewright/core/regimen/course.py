"""From when until when one dosage runs, and the moments it gives in a stretch of days.

Comes in: a rhythm, the repeat's bounds and count, and the start that holds where the repeat names none. Goes out: a `Course`, or findings.
A rhythm, a count and a course run from the order's own start, never from the window that is asked about. Days are ordinals.
Source: HL7 FHIR R4 (4.0.1) Timing.repeat.bounds[x], count; Period (the end is inclusive).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from fractions import Fraction
from functools import lru_cache
from operator import itemgetter
from typing import NamedTuple

from dosewright.core.regimen.dosage import Period, Repeat, Span, TimeUnit
from dosewright.core.regimen.expansion import assume, decide
from dosewright.core.regimen.recurrence import LAST, DayRule, add_months
from dosewright.core.regimen.rhythm import Rhythm
from dosewright.core.units.dosing_time import DosingTime
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import SlotName

__all__ = ["Course", "Dated", "Days", "Given", "Start", "StartFrom", "dated_of", "day_of", "find_course", "given_on", "wall_clock"]

_DAY_BEGINS, _DAY_ENDS = time(0), time.max
_LONGEST_GAP = 3660  # days between two doses of the longest rhythm; as in `rhythm`
_HOURS = frozenset({TimeUnit.SECOND, TimeUnit.MINUTE, TimeUnit.HOUR})


@dataclass(frozen=True, slots=True)
class Days:
    """A stretch of days, first and last included."""

    first: int
    last: int


class Given(NamedTuple):
    """One dosing time on one day; the day also as an ordinal, to count with, and `dated` as the last fields of a `Dose`."""

    ordinal: int
    day: date
    slot: DosingTime
    dated: tuple[date, SlotName, time]


def given_on(day: date, slot: DosingTime) -> Given:
    """That dosing time on that day."""
    return Given(day.toordinal(), day, slot, (day, slot.name, slot.time))


@dataclass(frozen=True, slots=True)
class StartFrom:
    """Where a start was taken from: the repeat or the order `states` it; a phase `follows` another; else the window lends its first day."""

    stated: bool = False
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Start:
    """The day, and the clock time on it, from which a course runs."""

    day: int
    clock: time = _DAY_BEGINS
    source: StartFrom = StartFrom()


Dated = tuple[tuple[date, ...], tuple[SlotName, ...], tuple[time, ...]]  # days, dosing times' names, clock times
_Whole = tuple[DayRule, tuple[DosingTime, ...], int, int, int]  # a rhythm's rule, dosing times and phase, first day and last


def dated_of(moments: Sequence[Given]) -> Dated | None:
    """Moments as the last fields of doses, field by field; None where there are none."""
    if not moments:
        return None
    days, slots, clocks = zip(*map(_DATED, moments), strict=True)
    return days, slots, clocks


_DATED = itemgetter(3)  # `Given.dated`


@dataclass(frozen=True, slots=True)
class Course:
    """A rhythm with its two ends. `first` and `last` are moments (day, clock), both included; None: open on that side."""

    rhythm: Rhythm
    anchor: int
    first: tuple[int, time] | None = None
    last: tuple[int, time] | None = None
    assumed: tuple[Finding, ...] = ()

    def moments(self, days: Days) -> Sequence[Given]:
        """Every day and dosing time of the course in that stretch, in order."""
        return self._within(days)[0]

    def dated(self, days: Days) -> Dated | None:
        """The same moments as the last fields of doses, field by field; None where there are none."""
        moments, whole = self._within(days)
        if whole and self._is_kept(whole):
            return _whole_dated(*whole)
        return dated_of(moments)

    def _within(self, days: Days) -> tuple[Sequence[Given], _Whole | None]:
        """The moments; and, where they are all those of whole days, what `_whole_days` made them from."""
        first = max(days.first, self.first[0]) if self.first else days.first
        last = min(days.last, self.last[0]) if self.last else days.last
        rule = self.rhythm.rule
        whole = rule, self.rhythm.slots, rule.phase(self.anchor), first, last
        found = _whole_days(*whole) if self._is_kept(whole) else _whole_days.__wrapped__(*whole)
        begin, end = 0, len(found)
        while begin < end and self.first and (found[begin].ordinal, found[begin].slot.time) < self.first:
            begin += 1
        while begin < end and self.last and (found[end - 1].ordinal, found[end - 1].slot.time) > self.last:
            end -= 1
        return (found, whole) if end - begin == len(found) else (found[begin:end], None)

    @staticmethod
    def _is_kept(whole: _Whole) -> bool:
        *_, first, last = whole
        return last - first < _KEPT_DAYS

    @property
    def first_day(self) -> int | None:
        return self.first[0] if self.first else None

    @property
    def last_day(self) -> int | None:
        return self.last[0] if self.last else None


_KEPT_DAYS = 100  # a long look ahead is not worth its memory


@lru_cache(maxsize=1024)
def _whole_days(rule: DayRule, slots: tuple[DosingTime, ...], phase: int, first: int, last: int) -> tuple[Given, ...]:
    """Kept, because a pharmacy's orders share a few dozen rhythms and one window."""
    days = map(date.fromordinal, rule.between(phase, first, last))
    return tuple([given_on(day, slot) for day in days for slot in slots])


@lru_cache(maxsize=1024)
def _whole_dated(rule: DayRule, slots: tuple[DosingTime, ...], phase: int, first: int, last: int) -> Dated | None:
    return dated_of(_whole_days(rule, slots, phase, first, last))


def find_course(repeat: Repeat, rhythm: Rhythm, fallback: Start, window: Days) -> Course | tuple[Finding, ...]:
    """The course, or every reason why its start or end is not known."""
    period, span = repeat.bounds_period or Period(), _length(repeat)
    if isinstance(span, Finding):
        return (span,)
    if repeat.count_max is not None and repeat.count_max != repeat.count:
        return (decide("timing.range", element="count"),)
    start = _stated_start(period) or fallback
    counted = span is not None or repeat.count is not None
    anchored = rhythm.rule.anchored or counted
    found = (*_check_partial_start(period, window, anchored=anchored), *_check_start(repeat, rhythm, start, span))
    last = _last(repeat, rhythm, start, span)
    if isinstance(last, Finding) or found:
        return (*found, last) if isinstance(last, Finding) else found
    begins = counted or start.source.follows or period.start is not None
    course = Course(
        rhythm,
        start.day,
        first=(start.day, start.clock) if begins else None,
        last=last,
        assumed=(*rhythm.assumed, *_assumed_anchor(start, anchored=anchored), *_assumed_zone(period)),
    )
    doubt = _doubt(course, window, counted=counted)
    return (doubt,) if doubt else course


def day_of(moment: date | datetime) -> date:
    """The day as written."""
    return moment.date() if isinstance(moment, datetime) else moment


def wall_clock(moment: date | datetime, whole_day: time) -> time:
    """The clock time as written, whatever its zone; for a day without one, `whole_day`."""
    return moment.time().replace(tzinfo=None) if isinstance(moment, datetime) else whole_day


def _stated_start(period: Period) -> Start | None:
    if period.start is None:
        return None
    return Start(day_of(period.start).toordinal(), wall_clock(period.start, _DAY_BEGINS), StartFrom(stated=True))


def _length(repeat: Repeat) -> Span | Finding | None:
    """The length of the course. A range of lengths is a choice, unless both ends are the same."""
    if repeat.bounds_range is None:
        return repeat.bounds_duration
    low, high = repeat.bounds_range
    return low if low is not None and low == high else decide("timing.range", element="boundsRange")


def _check_partial_start(period: Period, window: Days, *, anchored: bool) -> Iterator[Finding]:
    """Of a start in "2026-03" no day can be an anchor; and the days of that month are certain only once it is over."""
    if period.start is None or period.start_latest is None:
        return
    earliest, latest = day_of(period.start).toordinal(), period.start_latest.toordinal()
    if anchored or (window.first < latest and earliest <= window.last):
        yield decide("timing.start-partly-known", earliest=day_of(period.start), latest=period.start_latest)


def _check_start(repeat: Repeat, rhythm: Rhythm, start: Start, span: Span | None) -> Iterator[Finding]:
    """A start at 14:00 leaves out the morning: then a course of days, or every second day, may count from this day or from the next. An
    interval of hours counts from the very hour."""
    misses_the_hour = (
        repeat.period_unit in _HOURS and start.clock != _DAY_BEGINS and start.clock not in [slot.time for slot in rhythm.slots]
    )
    leaves_out = any(slot.time < start.clock for slot in rhythm.slots)
    if misses_the_hour or (leaves_out and (span is not None or rhythm.rule.anchored)):
        yield decide("timing.starts-within-a-day", date=date.fromordinal(start.day), time=start.clock)


def _last(repeat: Repeat, rhythm: Rhythm, start: Start, span: Span | None) -> tuple[int, time] | Finding | None:
    """The last moment. A count that the bounds cut short, or that leaves days of a stated length without doses, contradicts them."""
    bounds = _end_of_period(repeat.bounds_period) or _end_of_span(span, start)
    counted = _end_of_count(repeat.count, rhythm, start)
    if isinstance(bounds, Finding) or repeat.count is None or bounds is None:
        return counted if bounds is None else bounds
    if counted is None or bounds < counted or (span is not None and counted[0] != _last_day(rhythm, start, bounds[0])):
        return decide("timing.count-against-bounds", count=repeat.count)
    return counted


def _last_day(rhythm: Rhythm, start: Start, last: int) -> int | None:
    """The last day of the rhythm up to `last`."""
    rule = rhythm.rule
    return max(rule.between(rule.phase(start.day), max(start.day, last - _LONGEST_GAP), last), default=None)


def _end_of_period(period: Period | None) -> tuple[int, time] | Finding | None:
    if period is None or period.end is None:
        return None
    clock = wall_clock(period.end, _DAY_ENDS)
    if clock == _DAY_BEGINS:
        return decide("timing.ends-at-midnight", date=day_of(period.end))
    return day_of(period.end).toordinal(), clock


def _end_of_span(span: Span | None, start: Start) -> tuple[int, time] | Finding | None:
    if span is None:
        return None
    after = _day_after(span, start.day)
    if after is None:
        return decide("timing.length-unusable", length=span.value, unit=str(span.unit))
    return after - 1, _DAY_ENDS


_IN_DAYS = {TimeUnit.HOUR: Fraction(1, 24), TimeUnit.DAY: Fraction(1), TimeUnit.WEEK: Fraction(7)}
_IN_MONTHS = {TimeUnit.MONTH: 1, TimeUnit.YEAR: 12}


def _day_after(span: Span, start: int) -> int | None:
    """The first day after so long from `start` on; months and years by the calendar. None where that is no whole day."""
    days = span.value * _IN_DAYS.get(span.unit, 0)
    months = span.value * _IN_MONTHS.get(span.unit, 0)
    if days > 0 and days.denominator == 1:
        return start + int(days) if start + days <= LAST else None
    if 0 < months <= 12000 and months.denominator == 1:
        after = add_months(date.fromordinal(start), int(months))
        return after.toordinal() if after else None
    return None


def _end_of_count(count: int | None, rhythm: Rhythm, start: Start) -> tuple[int, time] | None:
    """The moment of the last of `count` doses from the start on."""
    if count is None:
        return None
    begins_today = rhythm.rule.nth(start.day, 0) == start.day
    left_out = sum(slot.time < start.clock for slot in rhythm.slots) if begins_today else 0
    days, place = divmod(count - 1 + left_out, len(rhythm.slots))
    day = rhythm.rule.nth(start.day, days)
    return (day, rhythm.slots[place].time) if day is not None else None


def _assumed_anchor(start: Start, *, anchored: bool) -> tuple[Finding, ...]:
    if not anchored or start.source.stated or start.source.follows:
        return ()
    return (assume("anchor", date=date.fromordinal(start.day)),)


def _assumed_zone(period: Period) -> tuple[Finding, ...]:
    zoned = any(isinstance(moment, datetime) and moment.tzinfo is not None for moment in (period.start, period.end))
    return (assume("wall-clock"),) if zoned else ()


def _doubt(course: Course, window: Days, *, counted: bool) -> Finding | None:
    first = course.anchor if counted else max(window.first, course.first[0]) if course.first else window.first
    last = min(window.last, course.last[0]) if course.last else window.last
    code = course.rhythm.rule.doubt(course.anchor, first, last) if first <= last else None
    return decide(code, date=date.fromordinal(course.anchor)) if code else None
