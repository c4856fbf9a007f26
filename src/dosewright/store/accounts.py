"""An account as the rest of the house knows it: an actor, with the name that is printed."""

from dosewright.core.custody.event import Actor, Role
from dosewright.core.units.ids import HomeId
from dosewright.store.models import Account

__all__ = ["actor_of"]


def actor_of(account: Account) -> Actor:
    """Who acts when this account is signed in."""
    return Actor(account.username, account.name, Role(account.role), HomeId(account.home_id) if account.home_id else None)
