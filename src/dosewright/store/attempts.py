"""Forms submitted twice: the mark of a form and what its first submit led to."""

import hashlib

from django.db import connection

from dosewright.core.custody.event import Occasion
from dosewright.store.models import Attempt

__all__ = ["claim_attempt", "save_outcome"]

# Both databases have it, Django's own words for it do not tell whether the row is new. A second submit waits here for the first.
_CLAIM = (
    f'INSERT INTO {Attempt._meta.db_table} (token, deed, "by", outcome, "at") VALUES (%s, %s, %s, %s, %s) ON CONFLICT (token) DO NOTHING'  # noqa: S608
)


def claim_attempt(on: Occasion, deed: str, subject: str, usual: str) -> str | None:
    """Take the form's mark for this deed: None for the first submit, else the outcome of the first, word for word.

    `usual` is what the outcome will be unless `save_outcome` says another: nobody sees it before the transaction ends. A second submit that
    comes while the first is at work waits for it. A form without a mark is never a second submit.
    """
    if not on.token:
        return None
    key = _key(on, deed, subject)
    with connection.cursor() as cursor:
        cursor.execute(_CLAIM, (key, deed, on.by.id, usual, connection.ops.adapt_datetimefield_value(on.at)))
        if cursor.rowcount == 1:
            return None
    return Attempt.objects.get(token=key).outcome


def save_outcome(on: Occasion, deed: str, subject: str, outcome: str) -> None:
    """Keep what the deed led to, for a second submit, where it is not the usual."""
    if on.token:
        Attempt.objects.filter(token=_key(on, deed, subject)).update(outcome=outcome)


def _key(on: Occasion, deed: str, subject: str) -> str:
    return hashlib.sha256("\x1f".join((on.by.id, deed, subject, on.token)).encode()).hexdigest()
