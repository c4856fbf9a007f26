"""Somebody signs in no more."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.store.accounts import save_closed
from dosewright.store.ledger import append_entry

__all__ = ["close_account"]


@doing(Ability.SET_UP, "account")
def close_account(username: str, on: Occasion) -> Outcome:
    """The account is closed, not deleted: the ledger names it. Whoever is signed in by it is out at the next touch."""
    save_closed(username)
    append_entry(on, "account closed", ("account", username), {})
    return done()
