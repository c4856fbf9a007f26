"""Put on record that somebody signed in at a station, or out."""

from django.db import transaction

from dosewright.core.custody.event import Occasion
from dosewright.store.ledger import append_entry

__all__ = ["record_sign_in", "record_sign_out"]


@transaction.atomic
def record_sign_in(on: Occasion) -> None:
    """The ledger knows who stood where from now on."""
    append_entry(on, "signed in", ("account", on.by.id), {})


@transaction.atomic
def record_sign_out(on: Occasion) -> None:
    """And until when, where they said so themselves."""
    append_entry(on, "signed out", ("account", on.by.id), {})
