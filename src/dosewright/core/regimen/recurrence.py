"""On which days: rules that give the days of any stretch of the calendar without walking there from their start.

Days are proleptic Gregorian ordinals (`date.toordinal()`); an `anchor` is the day from which a rhythm runs. `between` gives days in order,
first and last included, and also before the anchor: whoever knows a beginning cuts there. `nth` gives the n-th day from the anchor on,
counting from 0, or None beyond the calendar. `phase` gives one anchor for all that give the same days. `doubt` names
the reason why a rule has no single meaning with this anchor on these days.
"""

from bisect import bisect_left
from calendar import monthrange
from dataclasses import dataclass
from datetime import date
from typing import Protocol

__all__ = ["DayRule", "EveryDays", "EveryMonths", "OnCycleDays", "OnMonthDays", "OnWeekdays", "add_months"]

LAST = date.max.toordinal()


class DayRule(Protocol):
    """A rhythm of days. `anchored`: which days depends on where it starts."""

    @property
    def anchored(self) -> bool: ...

    def between(self, anchor: int, first: int, last: int) -> tuple[int, ...]: ...

    def phase(self, anchor: int) -> int: ...

    def nth(self, anchor: int, n: int) -> int | None: ...

    def doubt(self, anchor: int, first: int, last: int) -> str | None: ...

    def __hash__(self) -> int: ...


@dataclass(frozen=True, slots=True)
class EveryDays:
    """Every `step` days."""

    step: int

    @property
    def anchored(self) -> bool:
        return self.step > 1

    def between(self, anchor: int, first: int, last: int) -> tuple[int, ...]:
        return tuple(range(first + (anchor - first) % self.step, last + 1, self.step))

    def phase(self, anchor: int) -> int:
        return anchor % self.step

    def nth(self, anchor: int, n: int) -> int | None:
        return _in_calendar(anchor + n * self.step)

    def doubt(self, anchor: int, first: int, last: int) -> str | None:
        return None


@dataclass(frozen=True, slots=True)
class OnCycleDays:
    """On the days of a cycle of `length` days, counted from 1 at the anchor, in order."""

    days: tuple[int, ...]
    length: int

    @property
    def anchored(self) -> bool:
        return len(self.days) < self.length

    def between(self, anchor: int, first: int, last: int) -> tuple[int, ...]:
        found: list[int] = []
        for start in range(first - (first - anchor) % self.length, last + 1, self.length):
            found.extend(start + day - 1 for day in self.days if first <= start + day - 1 <= last)
        return tuple(found)

    def phase(self, anchor: int) -> int:
        return anchor % self.length

    def nth(self, anchor: int, n: int) -> int | None:
        cycle, place = divmod(n, len(self.days))
        return _in_calendar(anchor + cycle * self.length + self.days[place] - 1)

    def doubt(self, anchor: int, first: int, last: int) -> str | None:
        return None


@dataclass(frozen=True, slots=True)
class OnWeekdays:
    """On these weekdays (Monday 0 … Sunday 6, in order) of every `weeks`-th week."""

    weekdays: tuple[int, ...]
    weeks: int = 1

    @property
    def anchored(self) -> bool:
        return self.weeks > 1

    def between(self, anchor: int, first: int, last: int) -> tuple[int, ...]:
        return OnCycleDays(self._days_from(anchor), 7 * self.weeks).between(anchor, first, last)

    def phase(self, anchor: int) -> int:
        return anchor % (7 * self.weeks) if self.weeks > 1 else 1

    def nth(self, anchor: int, n: int) -> int | None:
        return OnCycleDays(self._days_from(anchor), 7 * self.weeks).nth(anchor, n)

    def doubt(self, anchor: int, first: int, last: int) -> str | None:
        """Every second week from a Wednesday, on Mondays: is the first one in five days or in twelve? Clear only where the start is itself
        one of the days and the others follow in the same week."""
        clear = self.weeks == 1 or self.weekdays[0] == _weekday(anchor)
        return None if clear else "timing.week-unclear"

    def _days_from(self, anchor: int) -> tuple[int, ...]:
        return tuple(sorted((weekday - _weekday(anchor)) % 7 + 1 for weekday in self.weekdays))


@dataclass(frozen=True, slots=True)
class EveryMonths:
    """Every `step` calendar months, on the day of the month of the anchor."""

    step: int
    anchored = True

    def between(self, anchor: int, first: int, last: int) -> tuple[int, ...]:
        return OnMonthDays((date.fromordinal(anchor).day,), self.step).between(anchor, first, last)

    def phase(self, anchor: int) -> int:
        return anchor

    def nth(self, anchor: int, n: int) -> int | None:
        return OnMonthDays((date.fromordinal(anchor).day,), self.step).nth(anchor, n)

    def doubt(self, anchor: int, first: int, last: int) -> str | None:
        """A month that lacks the day leaves open what happens in it and after it, from the anchor on."""
        return OnMonthDays((date.fromordinal(anchor).day,), self.step).doubt(anchor, min(anchor, first), last)


@dataclass(frozen=True, slots=True)
class OnMonthDays:
    """On these days of the month, in order, of every `step`-th calendar month from the anchor's own."""

    days: tuple[int, ...]
    step: int = 1

    @property
    def anchored(self) -> bool:
        return self.step > 1

    def between(self, anchor: int, first: int, last: int) -> tuple[int, ...]:
        found: list[int] = []
        month, end = _month(first), _month(last)
        month += (_month(anchor) - month) % self.step
        while month <= end:
            found.extend(day for day in map(_day_of, [month] * len(self.days), self.days) if day is not None and first <= day <= last)
            month += self.step
        return tuple(found)

    def phase(self, anchor: int) -> int:
        return anchor if self.step > 1 else 1

    def nth(self, anchor: int, n: int) -> int | None:
        """As if every month had every day; where one has not, `doubt` speaks first."""
        begun = bisect_left(self.days, date.fromordinal(anchor).day)
        months, place = divmod(begun + n, len(self.days))
        month = _month(anchor) + months * self.step
        return _clamped_day_of(month, self.days[place]) if month < _MONTHS_END else None

    def doubt(self, anchor: int, first: int, last: int) -> str | None:
        if self.step > 1 and date.fromordinal(anchor).day > self.days[0]:
            return "timing.month-unclear"
        return "timing.month-too-short" if self.days[-1] > 28 and self._lacks_a_day(anchor, first, last) else None

    def _lacks_a_day(self, anchor: int, first: int, last: int) -> bool:
        month = _month(first) + (_month(anchor) - _month(first)) % self.step
        # The calendar repeats after 400 years: no more months than that need looking at.
        for seen in range(month, min(_month(last), month + 4800 * self.step) + 1, self.step):
            for day in self.days:
                if _day_of(seen, day) is None and first <= _clamped_day_of(seen, day) <= last:
                    return True
        return False


_MONTHS_END = 10000 * 12


def add_months(day: date, months: int) -> date | None:
    """The same day of a later month; None where that month lacks it or lies beyond the calendar."""
    ordinal = _day_of(day.year * 12 + day.month - 1 + months, day.day) if _month(day.toordinal()) + months < _MONTHS_END else None
    return date.fromordinal(ordinal) if ordinal is not None else None


def _weekday(ordinal: int) -> int:
    return (ordinal + 6) % 7


def _month(ordinal: int) -> int:
    day = date.fromordinal(ordinal)
    return day.year * 12 + day.month - 1


def _day_of(month: int, day: int) -> int | None:
    year, place = divmod(month, 12)
    return date(year, place + 1, day).toordinal() if day <= monthrange(year, place + 1)[1] else None


def _clamped_day_of(month: int, day: int) -> int:
    year, place = divmod(month, 12)
    return date(year, place + 1, min(day, monthrange(year, place + 1)[1])).toordinal()


def _in_calendar(ordinal: int) -> int | None:
    return ordinal if ordinal <= LAST else None
