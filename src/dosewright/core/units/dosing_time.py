"""The dosing times of a home or a person: named times of day, in order. A dose has a date and a wall-clock time, never a datetime."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time

from dosewright.core.units.ids import SlotName

__all__ = ["STANDARD_TIMETABLE", "DosingTime", "Moment", "Timetable"]


@dataclass(frozen=True, slots=True, order=True)
class Moment:
    """A day and a wall-clock time on it: from when an order counts, until when. Orders, doses and changes are compared by it."""

    day: date
    time: "time" = time(0, 0)  # quoted: bare, it would name this very default


@dataclass(frozen=True, slots=True)
class DosingTime:
    """One named time of day; `when` holds the FHIR R4 event-timing codes that this timetable puts there."""

    name: SlotName
    time: time
    when: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a dosing time needs a name")


@dataclass(frozen=True, slots=True)
class Timetable:
    """The dosing times in order of the clock, and which of them "once a day", "twice a day", … mean where a direction names no time.

    `by_frequency[2] == ("morning", "evening")`. Raises ValueError for names or times that occur twice, or a frequency that names
    dosing times which are not there.
    """

    slots: tuple[DosingTime, ...]
    by_frequency: Mapping[int, tuple[SlotName, ...]] = field(default_factory=dict)
    _hash: int = field(init=False, repr=False, compare=False, default=0)

    def __post_init__(self) -> None:
        names, times = [s.name for s in self.slots], [s.time for s in self.slots]
        if not names or len(set(names)) < len(names) or len(set(times)) < len(times):
            raise ValueError("a timetable needs dosing times, each with a name and a clock time of its own")
        if times != sorted(times):
            raise ValueError("dosing times must be in the order of the clock")
        for often, chosen in self.by_frequency.items():
            if len(chosen) != often or not set(chosen) <= set(names):
                raise ValueError(f"{often} a day must name {often} of the dosing times")
        object.__setattr__(self, "_hash", hash((self.slots, tuple(sorted(self.by_frequency.items())))))

    def __hash__(self) -> int:
        return self._hash

    def slot(self, name: SlotName) -> DosingTime:
        """The dosing time of that name. Raises KeyError."""
        for found in self.slots:
            if found.name == name:
                return found
        raise KeyError(name)

    def at(self, clock: time) -> DosingTime | None:
        """The dosing time at exactly that clock time, if there is one."""
        return next((s for s in self.slots if s.time == clock), None)


def _slot(name: str, clock: str, when: str) -> DosingTime:
    return DosingTime(SlotName(name), time.fromisoformat(clock), frozenset(when.split()))


# Clock times: common practice, no source. Event codes: FHIR R4 event-timing; meals go to the dosing time beside them.
STANDARD_TIMETABLE = Timetable(
    slots=(
        _slot("morning", "08:00", "MORN CM ACM PCM"),
        _slot("noon", "12:00", "NOON CD ACD PCD"),
        _slot("evening", "18:00", "EVE CV ACV PCV"),
        _slot("bedtime", "22:00", "HS"),
    ),
    by_frequency={
        1: (SlotName("morning"),),
        2: (SlotName("morning"), SlotName("evening")),
        3: (SlotName("morning"), SlotName("noon"), SlotName("evening")),
        4: (SlotName("morning"), SlotName("noon"), SlotName("evening"), SlotName("bedtime")),
    },
)
