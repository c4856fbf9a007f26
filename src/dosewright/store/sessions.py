"""Sessions in the database, written in turn like everything else: on SQLite their writes must not push in before a waiting station."""

from django.contrib.sessions.backends import db
from django.contrib.sessions.backends.base import UpdateError

from dosewright.store.turns import one_write, write_turn

__all__ = ["SessionStore"]


class SessionStore(db.SessionStore):
    """Django's own, with its writes queued. The name is the one that Django looks for."""

    def save(self, must_create: bool = False) -> None:  # noqa: FBT001, FBT002  Django's signature
        """Write the session when it is this writer's turn. Raises what Django's own raises."""
        if must_create or self.session_key is None:
            with write_turn():
                super().save(must_create=must_create)
        else:
            self._change()

    def _change(self) -> None:
        """A session that is there, in one statement: nearly every request of a bench comes here."""
        row = self.create_model_instance(dict(self.items()))
        with one_write():
            found = self.model.objects.filter(pk=row.pk).update(session_data=row.session_data, expire_date=row.expire_date)
        if not found:
            raise UpdateError

    def delete(self, session_key: str | None = None) -> None:
        """Take the session away when it is this writer's turn."""
        with write_turn():
            super().delete(session_key)
