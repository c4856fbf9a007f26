"""An account gets another password."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.accounts import check_password
from dosewright.core.custody.event import Occasion, Role
from dosewright.core.custody.rights import Ability
from dosewright.store.accounts import NewAccount, save_password, weaknesses
from dosewright.store.ledger import append_entry

__all__ = ["set_password"]


@doing(Ability.SET_UP, "account")
def set_password(username: str, on: Occasion, password: str) -> Outcome:
    """Other sessions of the account end by it. That it was changed is in the ledger, the password is not."""
    if findings := check_password(weaknesses(password, NewAccount(username, username, Role.TECHNICIAN))):
        return not_done(findings)
    save_password(username, password)
    append_entry(on, "password changed", ("account", username), {})
    return done()
