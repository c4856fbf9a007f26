"""A program acts in nobody's name any more."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.store.api_tokens import lock_made_by, lock_token, save_token_revoked
from dosewright.store.ledger import append_entry

__all__ = ["revoke_token"]


@doing(Ability.MAKE_TOKEN, "token")
def revoke_token(token: int, on: Occasion) -> Outcome:
    """It counts no more, with its next request already, and with it every token that it made. One revoked before stays as it is."""
    found = lock_token(token)
    for one in (found, *lock_made_by(token)):
        if one.revoked_at is None:
            save_token_revoked(one.id, on)
            append_entry(on, "token revoked", ("token", str(one.id)), {"made by": token} if one.id != token else {})
    return done()
