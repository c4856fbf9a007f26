"""Forms submitted twice: the mark of a form and what its first submit led to."""

import hashlib

from django.db import IntegrityError, transaction

from dosewright.core.custody.event import Occasion
from dosewright.store.models import Attempt

__all__ = ["claim_attempt", "save_outcome"]


def claim_attempt(on: Occasion, deed: str, subject: str) -> str | None:
    """Take the form's mark for this deed: None for the first submit, else the outcome of the first, word for word.

    A second submit that comes while the first is at work waits for it. A form without a mark is never a second submit.
    """
    if not on.token:
        return None
    try:
        with transaction.atomic():
            Attempt.objects.create(token=_key(on, deed, subject), deed=deed, by=on.by.id, outcome="", at=on.at)
    except IntegrityError:
        return Attempt.objects.get(token=_key(on, deed, subject)).outcome
    return None


def save_outcome(on: Occasion, deed: str, subject: str, outcome: str) -> None:
    """Keep what the deed led to, for a second submit."""
    if on.token:
        Attempt.objects.filter(token=_key(on, deed, subject)).update(outcome=outcome)


def _key(on: Occasion, deed: str, subject: str) -> str:
    return hashlib.sha256("\x1f".join((on.by.id, deed, subject, on.token)).encode()).hexdigest()
