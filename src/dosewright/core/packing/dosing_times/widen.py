"""The dosing times that may be proposed: a home's rounds are its timetable's; somebody at home may also have the four standard ones.

Comes in: a person's timetable. Goes out: the same with the standard ones added where name and clock time are free. What the timetable says
of "once a day" and of meals stays its own.
"""

from dataclasses import replace

from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, DosingTime, Timetable

__all__ = ["widen"]


def widen(own: Timetable) -> Timetable:
    """The person's dosing times with the standard ones; events that the person's own name keep their place."""
    names, clocks = {slot.name for slot in own.slots}, {slot.time for slot in own.slots}
    named = frozenset(code for slot in own.slots for code in slot.when)
    added = [_plain(slot, named) for slot in STANDARD_TIMETABLE.slots if slot.name not in names and slot.time not in clocks]
    return Timetable(tuple(sorted((*own.slots, *added), key=lambda slot: slot.time)), own.by_frequency) if added else own


def _plain(slot: DosingTime, named: frozenset[str]) -> DosingTime:
    return replace(slot, when=slot.when - named)
