"""Somebody laid hands on a card for a change: from then on it is in work."""

from dosewright.core.custody.changing import ChangeStanding
from dosewright.core.custody.event import Occasion
from dosewright.core.units.ids import PersonId
from dosewright.store.changes import find_open_change, save_standing
from dosewright.store.ledger import append_entry

__all__ = ["change_begun"]


def change_begun(person: PersonId, on: Occasion) -> None:
    """Nothing where the person has no decided change, or where it is begun already."""
    change = find_open_change(person)
    if change is not None and change.standing is ChangeStanding.DECIDED:
        save_standing(change.id, ChangeStanding.IN_WORK)
        append_entry(on, "change begun", ("change", str(change.id)), {})
