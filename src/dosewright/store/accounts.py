"""Accounts as actors: who somebody signed in is to the rest of the house."""

from dosewright.core.custody.event import Actor, Role
from dosewright.core.units.ids import HomeId
from dosewright.store.models import Account

__all__ = ["actor_of"]


def actor_of(account: Account) -> Actor:
    """The account's id, printed name, role and home."""
    home = HomeId(account.home_id) if account.home_id else None
    return Actor(str(account.pk), account.name, Role(account.role), home)
