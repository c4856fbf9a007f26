"""A change is taken: what happened to a person's orders and their cards do not hold yet becomes one thing with a life, in the same
transaction. What comes on top of it while it is not done joins it."""

from collections.abc import Iterable

from dosewright.actions.lay_out_change import what_changes
from dosewright.core.custody.changing import Cause, ChangeStanding, facts_of_change
from dosewright.core.custody.event import Occasion
from dosewright.core.regimen.order import Order
from dosewright.core.rework.touched import Touched
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import PersonId
from dosewright.store.calendar import wall_moment
from dosewright.store.changes import StoredChange, find_open_change, save_change, save_standing
from dosewright.store.ledger import append_entry

__all__ = ["take_change"]


def take_change(person: PersonId, on: Occasion, before: tuple[Order, ...], touches: Iterable[Touched], cause: Cause) -> int:
    """The change's id: a new one, or the person's open one, about which must be decided anew."""
    first = min((Moment(dose.day, dose.time) for touch in touches for dose in touch.doses), default=None)
    known = find_open_change(person)
    change = save_change(person, cause, before, first, on) if known is None else _join(known, first)
    kinds = tuple(f"{one.was} {one.kind.value}" for one in what_changes(person, before, wall_moment(on.at)))
    event = "change taken" if known is None else "change added to"
    append_entry(on, event, ("change", str(change)), facts_of_change(person, cause, kinds))
    return change


def _join(known: StoredChange, first: Moment | None) -> int:
    earlier = first if first is not None and (known.first is None or first < known.first) else None
    save_standing(known.id, ChangeStanding.WAITING, earlier)
    return known.id
