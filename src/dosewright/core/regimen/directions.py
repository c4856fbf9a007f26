"""One value for all dosages that say the same, so that whatever is worked out from directions is kept and found again quickly.

Comes in: an order's dosages. Goes out: `Directions`, the very same object for equal dosages. Orders share a few hundred directions, and
to take a dosage apart costs more than most of what is asked about it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from dosewright.core.regimen.dosage import Dosage

__all__ = ["Directions", "directions_of"]


@dataclass(frozen=True, slots=True, eq=False)  # compared by identity
class Directions:
    """Dosages that were seen before."""

    dosages: tuple[Dosage, ...]


_MOST_SEEN = 16384  # orders whose directions are remembered by the very object
_seen: dict[int, tuple[tuple[Dosage, ...], Directions]] = {}


def directions_of(dosages: tuple[Dosage, ...]) -> Directions:
    """The one value for these dosages. The object itself is kept beside its number, which so stays its own."""
    known = _seen.get(id(dosages))
    if known is None:
        if len(_seen) >= _MOST_SEEN:
            _seen.clear()
        known = _seen[id(dosages)] = dosages, _one_for(dosages, _wall_clocks(dosages))
    return known[1]


@lru_cache(maxsize=8192)
def _one_for(dosages: tuple[Dosage, ...], _clocks: tuple[datetime, ...]) -> Directions:
    """The clocks are part of the key only: 08:00 in London and 09:00 in Paris are equal to Python, and two different dosing times."""
    return Directions(dosages)


def _wall_clocks(dosages: tuple[Dosage, ...]) -> tuple[datetime, ...]:
    return tuple(moment.replace(tzinfo=None) for dosage in dosages for moment in _moments(dosage))


def _moments(dosage: Dosage) -> Iterator[datetime]:
    timing = dosage.timing
    if timing is None:
        return
    period = timing.repeat.bounds_period if timing.repeat else None
    for moment in (*timing.events, *((period.start, period.end) if period else ())):
        if isinstance(moment, datetime):
            yield moment
