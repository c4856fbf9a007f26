"""Sessions are kept in the database and end with it."""

import pytest

from dosewright.store.sessions import SessionStore

pytestmark = pytest.mark.usefixtures("guarded")


def test_a_session_is_kept_found_again_and_ends_when_it_is_deleted() -> None:
    session = SessionStore()
    session["station"] = "bench 1"
    session.save(must_create=True)
    key = session.session_key
    assert SessionStore(key)["station"] == "bench 1"
    session.delete()
    assert "station" not in SessionStore(key)
