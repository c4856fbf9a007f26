"""What is kept for a while only, none of it of the record: marks of forms, keys of requests, sign-in attempts, ended sessions, results.

A mark makes a second submit the first one again; it is needed as long as somebody may send the same form once more, and no session and no
lost answer lasts nearly as long as `KEPT`.
"""

from datetime import datetime, timedelta

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.db.models import Max, Model, QuerySet
from django_tasks_db.models import DBTaskResult

from dosewright.store.models import Attempt, RequestKey
from dosewright.store.sessions import SessionStore
from dosewright.store.turns import write_turn

__all__ = ["KEPT", "forget_old"]

KEPT = timedelta(days=90)  # our own measure, no source; docs/api.md promises it to programs
_AT_ONCE = 1000  # rows: whoever waits at a bench waits no longer than for these


def forget_old(now: datetime) -> int:
    """Forget what is older than `KEPT`, some rows at a time. How many rows went.

    Nothing is judged by a clock that ran ahead: what counts as now is no later than the latest mark.
    """
    latest = Attempt.objects.aggregate(latest=Max("at"))["latest"]
    before = min(now, latest or now) - KEPT
    gone = sum(_forget(rows) for rows in _old(before))
    with write_turn():
        SessionStore.clear_expired()
    return gone


def _old(before: datetime) -> tuple[QuerySet[Model], ...]:
    failed, entered = AccessFailureLog.objects.filter(attempt_time__lt=before), AccessLog.objects.filter(attempt_time__lt=before)
    return (
        Attempt.objects.filter(at__lt=before),
        RequestKey.objects.filter(at__lt=before),
        AccessAttempt.objects.filter(attempt_time__lt=before),
        failed,
        entered,
        DBTaskResult.objects.finished().filter(finished_at__lt=before),
    )


def _forget(rows: QuerySet[Model]) -> int:
    gone = 0
    while keys := list(rows.order_by("pk").values_list("pk", flat=True)[:_AT_ONCE]):
        with write_turn():
            rows.model._default_manager.filter(pk__in=keys).delete()
        gone += len(keys)
    return gone
