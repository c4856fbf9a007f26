"""What is kept for a while only: forgotten when it is old, never while a second submit may still come, and never of the record."""

from datetime import timedelta

import pytest
from axes.models import AccessAttempt, AccessLog
from django.contrib.sessions.models import Session
from django.utils import timezone
from tests.bench_fixtures import MONDAY, actor, guarded, on

from dosewright.core.custody.event import Occasion, Role
from dosewright.core.units.ids import StationId
from dosewright.store.api_tokens import same_request
from dosewright.store.attempts import claim_attempt, save_outcome
from dosewright.store.ledger import append_entry, check_ledger
from dosewright.store.models import Attempt, LedgerEntry, RequestKey
from dosewright.store.sessions import SessionStore
from dosewright.store.tidying import KEPT, forget_old

__all__ = ["guarded"]

pytestmark = pytest.mark.usefixtures("guarded")
DAY = timedelta(days=1)


def submit(token: str, days: int) -> str | None:
    """A form sent so many days after that Monday: what its first submit led to, None if this is the first."""
    occasion = Occasion(actor(Role.TECHNICIAN), MONDAY + days * DAY, StationId("bench 1"), token)
    before = claim_attempt(occasion, "place a medicine", "1", "")
    save_outcome(occasion, "place a medicine", "1", "done")
    return before


def test_a_mark_makes_a_second_submit_the_first_one_until_it_is_older_than_any_session() -> None:
    assert submit("form-1", 0) is None
    assert submit("form-2", 80) is None
    assert forget_old(MONDAY + 89 * DAY) == 0
    assert submit("form-1", 89) == "done"
    submit("form-3", 91)
    assert forget_old(MONDAY + 91 * DAY) == 1
    assert submit("form-2", 91) == "done"
    assert Attempt.objects.count() == 2


def test_a_clock_that_ran_ahead_forgets_nothing() -> None:
    submit("form-1", 0)
    same_request("somebody", "key-00000001", "a", MONDAY)
    assert forget_old(MONDAY + 40 * 365 * DAY) == 0
    assert (Attempt.objects.count(), RequestKey.objects.count()) == (1, 1)


def test_keys_sign_ins_and_ended_sessions_go_and_the_ledger_stays() -> None:
    now = timezone.now()
    claim_attempt(Occasion(actor(Role.TECHNICIAN), now, StationId("bench 1"), "now"), "x", "1", "")
    same_request("somebody", "key-00000001", "a", now - KEPT - DAY)
    same_request("somebody", "key-00000002", "a", now - KEPT + DAY)
    for age in (KEPT + DAY, KEPT - DAY):
        said = {"username": f"tamm {age.days}", "ip_address": "127.0.0.1", "user_agent": "x"}
        one = AccessAttempt.objects.create(**said, get_data="", post_data="", failures_since_start=1)
        AccessAttempt.objects.filter(pk=one.pk).update(attempt_time=now - age)
        entered = AccessLog.objects.create(username="tamm", ip_address="127.0.0.1", user_agent="x")
        AccessLog.objects.filter(pk=entered.pk).update(attempt_time=now - age)
    session = SessionStore()
    session.save(must_create=True)
    Session.objects.update(expire_date=now - DAY)
    append_entry(on(), "long ago", ("card", "1"), {})
    assert forget_old(now) == 3
    assert (RequestKey.objects.count(), AccessAttempt.objects.count(), AccessLog.objects.count()) == (1, 1, 1)
    assert same_request("somebody", "key-00000002", "b", now) is False
    assert Session.objects.count() == 0
    assert LedgerEntry.objects.count() == 1
    assert check_ledger() == ()
