"""A badge is lost: it opens nothing any more."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.store.badges import save_no_badge
from dosewright.store.ledger import append_entry

__all__ = ["take_badge"]


@doing(Ability.SET_UP, "account")
def take_badge(username: str, on: Occasion) -> Outcome:
    """The account is without badge and PIN until its owner has made a new one; its password stays."""
    save_no_badge(username)
    append_entry(on, "badge void", ("account", username), {})
    return done()
