"""A program acts in nobody's name any more."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.store.api_tokens import lock_token, save_token_revoked
from dosewright.store.ledger import append_entry

__all__ = ["revoke_token"]


@doing(Ability.MAKE_TOKEN, "token")
def revoke_token(token: int, on: Occasion) -> Outcome:
    """It counts no more, with its next request already. One that was revoked before stays as it is."""
    if lock_token(token).revoked_at is None:
        save_token_revoked(token, on)
        append_entry(on, "token revoked", ("token", str(token)), {})
    return done()
