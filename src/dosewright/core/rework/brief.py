"""A change in five seconds' reading: which medicine, what becomes of it, from when, how much a day before and after.

Comes in: one person's orders before and after, the person's dosing times, the moment from which it is looked at. Goes out: one `Brief` a
medicine, or one for two products of one substance that change places. A week of whole days from the first that differs is compared, so
that "a day" is true of each day of it; where the days differ, the week is what is said.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta
from enum import StrEnum
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.substances import Blend, same_substance, substances_of
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.ids import MedicineCode

__all__ = ["HORIZON", "Brief", "BriefKind", "Sides", "brief"]

HORIZON = 92  # days in which a difference is looked for: the longest set there is
_WEEK = 7
_NOTHING = Fraction(0)
_Doses = dict[tuple[date, time], Fraction]


class BriefKind(StrEnum):
    """What becomes of a medicine. `OTHERWISE`: the same amount on other days; `OPEN`: it cannot be put on days on one of the sides."""

    STARTED = "started"
    STOPPED = "stopped"
    RAISED = "raised"
    LOWERED = "lowered"
    MOVED = "moved"
    SWAPPED = "swapped"
    OTHERWISE = "otherwise"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Brief:
    """`was`, `now`: the product before and after, the same but for a swap. `since`: the first dose that differs, None where nothing can be
    put on days. `before`, `after`: units in `days` days (1: on each of them); `times`: the dosing times before and after. `until`: from
    then on nothing differs any more (a course, a stay in hospital), None where that is not in sight."""

    kind: BriefKind
    was: MedicineCode
    now: MedicineCode
    since: Moment | None
    before: Fraction = _NOTHING
    after: Fraction = _NOTHING
    days: int = 1
    times: tuple[tuple[time, ...], tuple[time, ...]] = ((), ())
    until: Moment | None = None


@dataclass(frozen=True, slots=True)
class Sides:
    """One person's orders before and after, looked at from `at` on, with the catalogue that says which products are of one substance."""

    before: tuple[Order, ...]
    after: tuple[Order, ...]
    at: Moment
    timetable: Timetable
    medicines: Mapping[MedicineCode, Medicine]
    blends: tuple[Blend, ...] = ()


def brief(sides: Sides) -> tuple[Brief, ...]:
    """What changes, the first to change first. Nothing for orders that ask the same as before, whatever they are called."""
    codes = sorted({order.medicine for order in (*sides.before, *sides.after)})
    single = [found for code in codes if (found := _of_one(code, sides))]
    return tuple(sorted(_joined(single, sides), key=_order))


def _order(one: Brief) -> tuple[bool, date, time, MedicineCode]:
    since = one.since or Moment(date.max)
    return one.since is None, since.day, since.time, one.was


def _of_one(code: MedicineCode, sides: Sides) -> Brief | None:
    before, after = _doses(code, sides.before, sides), _doses(code, sides.after, sides)
    if before is None or after is None:
        return Brief(BriefKind.OPEN, code, code, None) if _says(code, sides.before, sides) != _says(code, sides.after, sides) else None
    differ = sorted(key for key in before.keys() | after.keys() if before.get(key, _NOTHING) != after.get(key, _NOTHING))
    if not differ:
        return None
    since = Moment(*differ[0])
    week = [since.day + timedelta(days=n) for n in range(_first_whole(since, before, after), _first_whole(since, before, after) + _WEEK)]
    was, will = _by_day(before, week), _by_day(after, week)
    alike = len(set(was)) == 1 and len(set(will)) == 1
    amounts = (was[0], will[0], 1) if alike else (sum(was, _NOTHING), sum(will, _NOTHING), _WEEK)
    times = _times(before, week), _times(after, week)
    kind = _kind(amounts[0], amounts[1], times)
    return Brief(kind, code, code, since, *amounts, times, _until(differ, before, after))


def _first_whole(since: Moment, before: _Doses, after: _Doses) -> int:
    """0 where the day on which it begins is whole already: nothing is due earlier on it."""
    return int(any(day == since.day and clock < since.time for day, clock in before.keys() | after.keys()))


def _by_day(doses: _Doses, week: Sequence[date]) -> list[Fraction]:
    return [sum((amount for (day, _), amount in doses.items() if day == one), _NOTHING) for one in week]


def _times(doses: _Doses, week: Sequence[date]) -> tuple[time, ...]:
    return tuple(sorted({clock for day, clock in doses if day in week}))


def _kind(before: Fraction, after: Fraction, times: tuple[tuple[time, ...], tuple[time, ...]]) -> BriefKind:
    if not before and after:
        return BriefKind.STARTED
    if before and not after:
        return BriefKind.STOPPED
    if before != after:
        return BriefKind.RAISED if after > before else BriefKind.LOWERED
    return BriefKind.MOVED if times[0] != times[1] else BriefKind.OTHERWISE


def _until(differ: Sequence[tuple[date, time]], before: _Doses, after: _Doses) -> Moment | None:
    """The first dose after the last that differs, where there is one: from there on it is as it was."""
    later = sorted(key for key in before.keys() & after.keys() if key > differ[-1])
    return Moment(*later[0]) if later else None


def _doses(code: MedicineCode, orders: Iterable[Order], sides: Sides) -> _Doses | None:
    """None where an order for it cannot be put on days."""
    found: _Doses = {}
    for order in orders:
        if order.medicine != code or (order.until is not None and order.until <= sides.at):
            continue
        expansion = expand(order, sides.timetable, sides.at.day, HORIZON)
        if expansion.status is not ExpansionStatus.SCHEDULED:
            return None
        for dose in expansion.doses:
            when = Moment(dose.day, dose.time)
            if when >= sides.at and order.in_force(when):
                found[dose.day, dose.time] = found.get((dose.day, dose.time), _NOTHING) + dose.quantity.count
    return found


def _says(code: MedicineCode, orders: Iterable[Order], sides: Sides) -> list[tuple[str, str, str]]:
    still = [order for order in orders if order.medicine == code and (order.until is None or order.until > sides.at)]
    return sorted((repr(order.dosages), repr(order.since), repr(order.until)) for order in still)


def _joined(single: Sequence[Brief], sides: Sides) -> list[Brief]:
    """What stops and what starts of one substance at one moment is one thing: another strength, or another maker's."""
    stops = [one for one in single if one.kind is BriefKind.STOPPED]
    starts = [one for one in single if one.kind is BriefKind.STARTED]
    joined, gone = [], set()
    for stop in stops:
        start = next((one for one in starts if one.now not in gone and one.since == stop.since and _one_substance(stop, one, sides)), None)
        if start is not None and start.days == stop.days:
            gone |= {stop.was, start.now}
            times = stop.times[0], start.times[1]
            joined.append(Brief(BriefKind.SWAPPED, stop.was, start.now, stop.since, stop.before, start.after, stop.days, times))
    return [*joined, *(one for one in single if one.was not in gone)]


def _one_substance(stop: Brief, start: Brief, sides: Sides) -> bool:
    known = sides.medicines
    if stop.was not in known or start.now not in known:
        return False
    ones, others = (substances_of(known[code], sides.blends) for code in (stop.was, start.now))
    return len(ones) == len(others) and all(any(same_substance(one, other) for other in others) for one in ones)
