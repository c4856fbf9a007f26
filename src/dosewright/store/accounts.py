"""Accounts ⇄ rows: who somebody signed in is to the rest of the house, and how accounts come, change and are closed."""

from dataclasses import dataclass

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from dosewright.core.custody.event import Actor, Role
from dosewright.core.units.ids import HomeId
from dosewright.store.missing import Missing
from dosewright.store.models import Account, HomeRow

__all__ = [
    "KnownAccount",
    "NewAccount",
    "actor_of",
    "find_actor",
    "home_is_known",
    "load_account",
    "load_accounts",
    "lock_account",
    "save_account",
    "save_closed",
    "save_password",
    "weaknesses",
]


@dataclass(frozen=True, slots=True)
class NewAccount:
    """Somebody who will sign in: the name as it is printed, the role, the home for a home's own people.

    `another_because`: how it is known that they are not the person of the same name who has an account; "" where nobody has that name."""

    username: str
    name: str
    role: Role
    home: HomeId | None = None
    another_because: str = ""


def actor_of(account: Account) -> Actor:
    """The account's id, printed name, role and home."""
    home = HomeId(account.home_id) if account.home_id else None
    return Actor(str(account.pk), account.name, Role(account.role), home)


def find_actor(username: str) -> Actor | None:
    """Who signs in by this name, or None where nobody does (any more)."""
    account = Account.objects.filter(username=username, is_active=True).first()
    return actor_of(account) if account else None


def lock_account(username: str) -> Account | None:
    """The account, kept from others until the transaction ends; None where there is none."""
    return Account.objects.select_for_update(of=("self",)).filter(username=username).first()


@dataclass(frozen=True, slots=True)
class KnownAccount:
    """An account as a list shows it: nothing of its secrets but whether there is a badge."""

    username: str
    name: str
    role: Role
    home: str
    open: bool
    badge: bool


def load_accounts() -> tuple[KnownAccount, ...]:
    """Everybody who signs in or did, the open ones first, by printed name."""
    rows = Account.objects.select_related("home").order_by("-is_active", "name", "username")
    return tuple(_known_account(row) for row in rows)


def load_account(username: str) -> KnownAccount:
    """Raises Missing."""
    row = Account.objects.select_related("home").filter(username=username).first()
    if row is None:
        raise Missing("account", username)
    return _known_account(row)


def _known_account(row: Account) -> KnownAccount:
    return KnownAccount(row.username, row.name, Role(row.role), row.home.name if row.home else "", row.is_active, row.badge is not None)


def home_is_known(home: HomeId) -> bool:
    """Whether there is a home of this id."""
    return HomeRow.objects.filter(id=home).exists()


def weaknesses(password: str, who: NewAccount) -> tuple[str, ...]:
    """What is wrong with a password for this account, in sentences; nothing where it will do."""
    try:
        validate_password(password, Account(username=who.username, name=who.name))
    except ValidationError as error:
        return tuple(error.messages)
    return ()


def save_account(who: NewAccount, password: str) -> Actor:
    """Add the account. Raises IntegrityError for a username that is taken."""
    return actor_of(Account.objects.create_account(who.username, password, name=who.name, role=who.role, home=who.home))


def save_password(username: str, password: str) -> None:
    """Change the password. Raises Missing."""
    account = _known(username)
    account.set_password(password)
    account.save(update_fields=["password"])


def save_closed(username: str) -> None:
    """Nobody signs in by this account any more; the ledger goes on naming it. Raises Missing."""
    account = _known(username)
    account.is_active = False
    account.save(update_fields=["is_active"])


def _known(username: str) -> Account:
    account = lock_account(username)
    if account is None:
        raise Missing("account", username)
    return account
