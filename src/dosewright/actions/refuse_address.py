"""Somebody asked for a screen that their role or their home may not see: it is put on record (R14)."""

from dosewright.core.custody.event import Occasion
from dosewright.store.ledger import append_entry
from dosewright.store.turns import write_turn

__all__ = ["refuse_address"]


def refuse_address(address: str, on: Occasion, codes: tuple[str, ...] = ("custody.no-right",)) -> None:
    """Record that the address, by its name, was refused to this person, and by which rules (`codes`)."""
    with write_turn():
        append_entry(on, "refused", ("address", address), {"what": "look", "codes": codes})
