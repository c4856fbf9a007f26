"""What a card rests on was changed: the card is out of date until a pharmacist decides, with what was changed and why on record (R9)."""

from collections.abc import Iterable

from dosewright.core.custody.correcting import note_record_changed
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.units.finding import Fact, Finding
from dosewright.store.cards import StoredCard, save_event

__all__ = ["mark_resting_on"]


def mark_resting_on(cards: Iterable[StoredCard], on: Occasion, what: str, changed: tuple[str, ...], reason: str) -> tuple[Finding, ...]:
    """Mark each card, locked. `what` was changed: "the record of bisoprolol 5 mg tablet"; `changed`: field by field. A note a card."""
    facts: dict[str, Fact] = {"what changed": what, "changes": changed, "reason": reason}
    notes = []
    for card in cards:
        save_event(card, Deed.OUT_OF_DATE, on, facts)
        notes.append(note_record_changed(card.number))
    return tuple(notes)
