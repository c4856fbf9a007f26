"""Put on record that somebody asked for what is not theirs to see or do."""

from django.db import transaction

from dosewright.core.custody.event import Occasion
from dosewright.store.ledger import append_entry

__all__ = ["refuse_address"]


@transaction.atomic
def refuse_address(address: str, on: Occasion) -> None:
    """`address` is the address's own name, never what was typed (R14)."""
    append_entry(on, "address refused", ("address", address), {})
