"""Put on record that somebody asked for what is not theirs to see or do."""

from dosewright.core.custody.event import Occasion
from dosewright.store.ledger import append_entry
from dosewright.store.turns import write_turn

__all__ = ["refuse_address"]


def refuse_address(address: str, on: Occasion) -> None:
    """`address` is the address's own name, never what was typed (R14)."""
    with write_turn():
        append_entry(on, "address refused", ("address", address), {})
