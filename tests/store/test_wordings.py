"""The database itself keeps a wording from being in force twice, or without who and why."""

from datetime import UTC, datetime

import pytest
from django.db import IntegrityError, transaction
from tests import small_bench as bench
from tests.actions.test_wordings import PHARMACIST, remembered

from dosewright.actions.revoke_wording import revoke_wording
from dosewright.store.models import WordingRow

pytestmark = pytest.mark.usefixtures("guarded")

NOW = datetime(2026, 3, 2, 9, tzinfo=UTC)


def again(**changes: object) -> WordingRow:
    """The same row once more, but for some fields."""
    row: dict[str, object] = {**(WordingRow.objects.order_by("pk").values().first() or {})}
    return WordingRow.objects.create(**{**row, "id": None, **changes})


def test_the_same_words_are_in_force_once_and_revoked_as_often_as_they_were() -> None:
    remembered()
    with pytest.raises(IntegrityError), transaction.atomic():
        again()
    again(home="The Lindens")
    revoked = {"revoked_by": "x", "revoked_by_id": "x", "revoked_at": NOW, "revoked_because": "y"}
    again(**revoked)
    again(**revoked)


WRONG: list[dict[str, object]] = [
    {"reason": ""},
    {"confirmed_by": ""},
    {"confirmed_by_id": ""},
    {"revoked_at": NOW},
    {"revoked_by": "x", "revoked_by_id": "x", "revoked_because": "y"},
    {"revoked_by": "x", "revoked_by_id": "x", "revoked_at": NOW},
]


@pytest.mark.parametrize("changes", WRONG, ids=[", ".join(row) for row in WRONG])
def test_who_when_and_why_go_together(changes: dict[str, object]) -> None:
    number = remembered()
    bench.must(revoke_wording(number, PHARMACIST, "x"))
    plain = {"revoked_by": "", "revoked_by_id": "", "revoked_at": None, "revoked_because": ""}
    with pytest.raises(IntegrityError), transaction.atomic():
        again(**{**plain, **changes})
