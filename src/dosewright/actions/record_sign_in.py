"""Who came to which station and left it, in the ledger."""

from dosewright.core.custody.event import Occasion
from dosewright.store.ledger import append_entry
from dosewright.store.turns import write_turn

__all__ = ["record_lock", "record_sign_in", "record_sign_out", "record_taken"]


def record_sign_in(on: Occasion) -> None:
    """Somebody signed in with their own password."""
    with write_turn():
        append_entry(on, "signed in", ("account", on.by.id), {})


def record_taken(on: Occasion) -> None:
    """Somebody took their place at a bench that was open, with badge and PIN."""
    with write_turn():
        append_entry(on, "signed in by badge", ("account", on.by.id), {})


def record_lock(on: Occasion) -> None:
    """Somebody left the bench, or it locked behind them."""
    with write_turn():
        append_entry(on, "bench locked", ("account", on.by.id), {})


def record_sign_out(on: Occasion) -> None:
    """Somebody signed out."""
    with write_turn():
        append_entry(on, "signed out", ("account", on.by.id), {})
