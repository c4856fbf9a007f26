"""Put on record that somebody signed in at a station, or out."""

from dosewright.core.custody.event import Occasion
from dosewright.store.ledger import append_entry
from dosewright.store.turns import write_turn

__all__ = ["record_sign_in", "record_sign_out"]


def record_sign_in(on: Occasion) -> None:
    """The ledger knows who stood where from now on."""
    with write_turn():
        append_entry(on, "signed in", ("account", on.by.id), {})


def record_sign_out(on: Occasion) -> None:
    """And until when, where they said so themselves."""
    with write_turn():
        append_entry(on, "signed out", ("account", on.by.id), {})
