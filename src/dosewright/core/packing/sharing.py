"""Which weeks may share a card, by how long things keep: dosing times in, a question about a run of weeks out. Holds R5.

A card keeps as its shortest-lived product does. Weeks go on one card only where that is not before the last dose of the last of them; else
the product gets a card that ends earlier. A single week that outlives its own contents is refused later (`keeping`).
"""

from collections.abc import Iterable, Sequence
from datetime import date

from dosewright.core.packing.cards import DraftColumn, MayShare
from dosewright.core.packing.last_day import last_day_of
from dosewright.core.packing.load import Item, Load
from dosewright.core.packing.request import PlanRequest

__all__ = ["keep_together", "sharing", "shortest_lived"]


def sharing(loads: Iterable[Load], weeks: Sequence[Sequence[date]], request: PlanRequest) -> MayShare:
    """Whether the weeks from one to another keep together."""
    items = [item for load in loads for item in load.items]
    medicines = {item.medicine.code: item.medicine for item in items}
    if not medicines or last_day_of(medicines.values(), request) >= request.last:
        return lambda _first, _last: True
    shortest = {code: last_day_of([medicine], request) for code, medicine in medicines.items()}
    lasts = [max((day for item in items for day in week if day in item.counts), default=date.min) for week in weeks]
    limits = [min((shortest[item.medicine.code] for item in items if item.due_in(week)), default=date.max) for week in weeks]
    return lambda first, last: min(limits[first : last + 1]) >= max(lasts[first : last + 1])


def shortest_lived(loads: Iterable[Load], days: Sequence[date], request: PlanRequest) -> tuple[Item, date]:
    """Of all that is due on those days what keeps shortest, and its last day; the first in catalogue order of several. Raises ValueError
    where nothing is due."""
    due = [item for load in loads for item in load.items if item.due_in(days)]
    limits = [(last_day_of([item.medicine], request), at) for at, item in enumerate(due)]
    last, at = min(limits)
    return due[at], last


def keep_together(pouches: Sequence[DraftColumn], request: PlanRequest) -> bool:
    """Whether all that lies in a strip's pouches keeps to its last day."""
    medicines = {item.medicine.code: item.medicine for pouch in pouches for item in pouch.items}
    return last_day_of(medicines.values(), request) >= max(pouch.days[-1] for pouch in pouches)
