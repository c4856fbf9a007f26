"""At which dosing times of a day: events, clock times, or how often, looked up in a timetable.

Comes in: one repeat and the timetable. Goes out: dosing times in order of the clock with the defaults that were supplied, or the finding
that says why a person must choose. Nothing is ever moved further than `NEAR` from the clock time that was ordered.
"""

from dataclasses import dataclass
from datetime import time
from functools import cache

from dosewright.core.regimen.dosage import Repeat
from dosewright.core.regimen.event_timing import EVERY_MEAL, OFFSET_FROM, PART_OF_DAY
from dosewright.core.regimen.expansion import assume, decide
from dosewright.core.units.dosing_time import DosingTime, Timetable
from dosewright.core.units.finding import Finding

__all__ = ["NEAR", "Chosen", "choose_often", "choose_stated", "place_clock"]

NEAR = 60  # minutes; the usual window of a medication round. Source: survey practice in long-term care, from memory


@dataclass(frozen=True, slots=True)
class Chosen:
    """Dosing times of one day, in order. `every_meal`: "meals" stood for all three, which only a number of times can confirm."""

    slots: tuple[DosingTime, ...]
    assumed: tuple[Finding, ...] = ()
    every_meal: bool = False


def choose_often(times: int, timetable: Timetable) -> Chosen | Finding:
    """So many times a day, with nothing said about when."""
    names = timetable.by_frequency.get(times)
    if names is None:
        return decide("timing.no-dosing-times", times=times)
    slots = tuple(sorted((timetable.slot(name) for name in names), key=_clock))
    return Chosen(slots, (assume("time-of-day", times=times, slots=tuple(names)),))


def choose_stated(repeat: Repeat, timetable: Timetable) -> Chosen | Finding | None:
    """The dosing times that `when` or `timeOfDay` name; None where neither is there."""
    if repeat.when:
        return _choose_events(repeat, timetable)
    if repeat.time_of_day:
        return _together([place_clock(clock, timetable) for clock in repeat.time_of_day])
    return None


def place_clock(clock: time, timetable: Timetable) -> Chosen | Finding:
    """The dosing time of that clock time: the same, or the only one within `NEAR` minutes."""
    exact = timetable.at(clock.replace(tzinfo=None))
    if exact:
        return Chosen((exact,))
    near = sorted((abs(_minutes(slot.time) - _minutes(clock)), slot.name) for slot in timetable.slots)
    if near[0][0] > NEAR or (len(near) > 1 and near[1][0] == near[0][0]):
        return decide("timing.clock-time-matches-none", time=clock.replace(tzinfo=None))
    slot = timetable.slot(near[0][1])
    return Chosen((slot,), (assume("near-time", time=clock.replace(tzinfo=None), slot=slot.name),))


def _choose_events(repeat: Repeat, timetable: Timetable) -> Chosen | Finding:
    every_meal = not EVERY_MEAL.keys().isdisjoint(repeat.when)
    codes = [code for given in repeat.when for code in EVERY_MEAL.get(given, (given,))]
    chosen = _together([_place_event(code, timetable) for code in codes])
    if isinstance(chosen, Finding):
        return chosen
    offset = _place_offset(repeat)
    if offset and offset.code.startswith("assumed."):
        return Chosen(chosen.slots, (*chosen.assumed, offset), every_meal)
    return offset or Chosen(chosen.slots, chosen.assumed, every_meal)


def _place_offset(repeat: Repeat) -> Finding | None:
    """Minutes before or after an event do not leave its dosing time, up to `NEAR`."""
    if not repeat.offset:
        return None
    if repeat.offset > NEAR or not OFFSET_FROM.issuperset(repeat.when):
        return decide("timing.offset-too-far", minutes=repeat.offset, events=repeat.when)
    return assume("offset", minutes=repeat.offset, events=repeat.when)


def _place_event(code: str, timetable: Timetable) -> Chosen | Finding:
    slot = _by_event(timetable).get(code)
    if slot:
        return Chosen((slot,), () if code in _PLAIN else (assume("event", event=code, slot=slot.name),))
    slot = _by_event(timetable).get(PART_OF_DAY.get(code, ""))
    if slot:
        return Chosen((slot,), (assume("event", event=code, slot=slot.name),))
    return decide("timing.event-matches-none", event=code)


_PLAIN = frozenset({"MORN", "NOON", "EVE", "HS"})


@cache
def _by_event_of(slots: tuple[DosingTime, ...]) -> dict[str, DosingTime]:
    return {code: slot for slot in reversed(slots) for code in slot.when}


def _by_event(timetable: Timetable) -> dict[str, DosingTime]:
    return _by_event_of(timetable.slots)


def _together(placed: list[Chosen | Finding]) -> Chosen | Finding:
    for one in placed:
        if isinstance(one, Finding):
            return one
    chosen = [one for one in placed if isinstance(one, Chosen)]
    slots = [slot for one in chosen for slot in one.slots]
    for slot in slots:
        if slots.count(slot) > 1:
            return decide("timing.one-dosing-time-twice", slot=slot.name)
    return Chosen(tuple(sorted(slots, key=_clock)), tuple(finding for one in chosen for finding in one.assumed))


def _clock(slot: DosingTime) -> time:
    return slot.time


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute + (1 if clock.second or clock.microsecond else 0)
