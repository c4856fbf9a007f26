"""Sessions in the database, written in turn like everything else: on SQLite their writes must not push in before a waiting station."""

from django.contrib.sessions.backends import db

from dosewright.store.turns import write_turn

__all__ = ["SessionStore"]


class SessionStore(db.SessionStore):
    """Django's own, with its writes queued. The name is the one that Django looks for."""

    def save(self, must_create: bool = False) -> None:  # noqa: FBT001, FBT002  Django's signature
        """Write the session when it is this writer's turn. Raises what Django's own raises."""
        with write_turn():
            super().save(must_create=must_create)

    def delete(self, session_key: str | None = None) -> None:
        """Take the session away when it is this writer's turn."""
        with write_turn():
            super().delete(session_key)
