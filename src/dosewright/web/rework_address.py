"""Where a card that is put right is worked on, in place of the screens for a first filling."""

from typing import Literal

from django.urls import reverse

from dosewright.core.custody.reworking import to_take_out
from dosewright.store.changes import find_open_change
from dosewright.web.bench_card import BenchCard

__all__ = ["rework_address"]


def rework_address(card: BenchCard, name: Literal["change-card", "change-check"]) -> str:
    """ "" for a card that is not opened, or has nothing left that must leave it before anything goes in."""
    state = card.stored.state
    change = find_open_change(card.stored.person.id) if state.disturbed else None
    if change is None or not any(task.card == card.stored.number for task in change.tasks):
        return ""
    if name == "change-card" and not to_take_out(card.stored.filled, state):
        return ""
    return reverse(name, args=[change.id, card.stored.number])
