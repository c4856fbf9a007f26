"""Who has a set in hand. A claim says so to the others; it holds nobody off: whoever is at the bench may always go on."""

from dataclasses import dataclass
from datetime import datetime

from dosewright.core.custody.event import Occasion, Role
from dosewright.store.missing import Missing
from dosewright.store.models import Account, CardSet

__all__ = ["Claim", "Colleague", "find_colleague", "load_claim", "load_colleagues", "lock_claim", "save_claim"]


@dataclass(frozen=True, slots=True)
class Claim:
    """Who has the set since when. `id` is the account's."""

    id: str
    name: str
    since: datetime


@dataclass(frozen=True, slots=True)
class Colleague:
    """Somebody to whom a set can be handed."""

    id: str
    username: str
    name: str
    role: Role


def load_claim(set_id: int) -> Claim | None:
    """Who has the set; None where nobody has. Raises Missing for a set that is not there."""
    return _claim(CardSet.objects.select_related("claimed_by").defer("request", "plan").filter(pk=set_id).first(), set_id)


def lock_claim(set_id: int) -> Claim | None:
    """The same, kept from the other stations until the transaction ends. Raises Missing."""
    if CardSet.objects.select_for_update(of=("self",)).filter(pk=set_id).values_list("pk", flat=True).first() is None:
        raise Missing("set", str(set_id))
    return load_claim(set_id)


def save_claim(set_id: int, account_id: str | None, on: Occasion) -> None:
    """The account has the set from now on; None: nobody has."""
    CardSet.objects.filter(pk=set_id).update(claimed_by_id=account_id, claimed_at=on.at if account_id else None)


def load_colleagues(roles: frozenset[Role]) -> tuple[Colleague, ...]:
    """Everybody of these roles whose account is open, by name."""
    rows = Account.objects.filter(is_active=True, role__in=[role.value for role in roles]).order_by("name", "username")
    return tuple(Colleague(str(row.pk), row.username, row.name, Role(row.role)) for row in rows)


def find_colleague(username: str, roles: frozenset[Role]) -> Colleague | None:
    """One of them by the name they sign in with."""
    return next((one for one in load_colleagues(roles) if one.username == username), None)


def _claim(row: CardSet | None, set_id: int) -> Claim | None:
    if row is None:
        raise Missing("set", str(set_id))
    return Claim(str(row.claimed_by_id), row.claimed_by.name, row.claimed_at) if row.claimed_by and row.claimed_at else None
