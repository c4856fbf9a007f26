"""What changes from day to day, dosing time by dosing time, when one schedule takes the place of another.

Comes in: the amounts given before and after, in one unit, each at its day and clock time. Goes out: a `DailyChange`: for every day what
each dosing time gave and gives, so that the change put on top of the amounts before is the amounts after, in exact fractions.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, time, timedelta
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import SlotName

__all__ = ["DailyChange", "DayChange", "Given", "Stretch", "TimeChange", "apply_change", "find_daily_change"]

_NOTHING = Fraction(0)


class Given(NamedTuple):
    """So much at one dosing time of one day. The unit is the same for all that are compared."""

    day: date
    time: time
    slot: SlotName
    amount: Fraction


@dataclass(frozen=True, slots=True)
class TimeChange:
    """One dosing time of a day: how much before, how much after. Equal where it stays as it is."""

    slot: SlotName
    time: time
    before: Fraction
    after: Fraction


@dataclass(frozen=True, slots=True)
class DayChange:
    """One day, its dosing times in order of the clock; a time at which nothing is given on either side is not there."""

    day: date
    times: tuple[TimeChange, ...]

    @property
    def before(self) -> Fraction:
        """How much that day before."""
        return sum((one.before for one in self.times), _NOTHING)

    @property
    def after(self) -> Fraction:
        """How much that day after."""
        return sum((one.after for one in self.times), _NOTHING)


@dataclass(frozen=True, slots=True)
class Stretch:
    """Days in a row, from `first` to `last`, that are all like `like`."""

    first: date
    last: date
    like: DayChange


@dataclass(frozen=True, slots=True)
class DailyChange:
    """Every day of the stretch that was looked at, in order."""

    days: tuple[DayChange, ...]

    @property
    def nothing_changes(self) -> bool:
        """Whether every dose is as it was."""
        return all(one.before == one.after for day in self.days for one in day.times)

    def stretches(self) -> tuple[Stretch, ...]:
        """The days put together where one is like the day before it."""
        groups = (tuple(held) for _, held in groupby(self.days, key=lambda day: day.times))
        return tuple(Stretch(held[0].day, held[-1].day, held[0]) for held in groups)

    def first_days(self, many: int) -> "DailyChange":
        """The same, of so many days only."""
        return DailyChange(self.days[:many])

    def total(self) -> tuple[Fraction, Fraction]:
        """How much on all days together, before and after."""
        return sum((day.before for day in self.days), _NOTHING), sum((day.after for day in self.days), _NOTHING)


def find_daily_change(before: Iterable[Given], after: Iterable[Given], first: date, days: int) -> DailyChange:
    """Day by day from `first` on. Amounts at one time are added together. Raises ValueError for an amount on a day outside."""
    last = first + timedelta(days=days - 1)
    sides = _gather(before, first, last), _gather(after, first, last)
    slots: dict[date, set[tuple[time, SlotName]]] = {}
    for side in sides:
        for day, at, slot in side:
            slots.setdefault(day, set()).add((at, slot))
    each = (first + timedelta(days=number) for number in range(days))
    return DailyChange(tuple(DayChange(day, _times(day, sorted(slots.get(day, ())), *sides)) for day in each))


_Key = tuple[date, time, SlotName]


def _times(
    day: date, times: Iterable[tuple[time, SlotName]], before: Mapping[_Key, Fraction], after: Mapping[_Key, Fraction]
) -> tuple[TimeChange, ...]:
    keys = [(day, at, slot) for at, slot in times]
    return tuple(TimeChange(slot, at, before.get((day, at, slot), _NOTHING), after.get((day, at, slot), _NOTHING)) for _, at, slot in keys)


def _gather(given: Iterable[Given], first: date, last: date) -> dict[_Key, Fraction]:
    found: dict[_Key, Fraction] = {}
    for one in given:
        if not first <= one.day <= last:
            raise ValueError(f"{one.day} is not among the days from {first} to {last}")
        if one.amount:
            key = (one.day, one.time, one.slot)
            found[key] = found.get(key, _NOTHING) + one.amount
    return found


def apply_change(change: DailyChange, amounts: Mapping[Moment, Fraction]) -> dict[Moment, Fraction]:
    """The amounts before, by moment, with the change put on top: the amounts after, without what is nothing.

    Raises ValueError where the change takes away more than is there: then it is not these amounts' change.
    """
    found = dict(amounts)
    for day in change.days:
        for one in day.times:
            at = Moment(day.day, one.time)
            found[at] = found.get(at, _NOTHING) + one.after - one.before
            if found[at] < 0:
                raise ValueError(f"less than nothing is left on {at.day} at {at.time}")
    return {at: amount for at, amount in found.items() if amount}
