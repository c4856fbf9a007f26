"""Who came to which station and left it, in the ledger."""

from dosewright.core.custody.event import Occasion
from dosewright.store.ledger import append_entry
from dosewright.store.turns import write_turn

__all__ = ["record_sign_in", "record_sign_out"]


def record_sign_in(on: Occasion) -> None:
    """Somebody signed in with their own password."""
    with write_turn():
        append_entry(on, "signed in", ("account", on.by.id), {})


def record_sign_out(on: Occasion) -> None:
    """Somebody signed out."""
    with write_turn():
        append_entry(on, "signed out", ("account", on.by.id), {})
