"""Badges and PINs: what a scanner types from somebody's badge, and the digits that only they know.

The badge's code is random (80 bits) and kept as its SHA-256 only; the PIN is hashed like a password. A badge without its PIN opens nothing.
"""

import hashlib
import secrets

from django.contrib.auth.hashers import check_password, make_password
from django.contrib.auth.models import AbstractBaseUser
from django.http import HttpRequest

from dosewright.store.accounts import lock_account
from dosewright.store.missing import Missing
from dosewright.store.models import Account

__all__ = ["BADGE", "BadgeBackend", "find_badge", "new_badge_code", "save_badge", "save_no_badge"]

BADGE = "BADGE"  # how each code begins, so that no scan of a bottle or a card is taken for one
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"  # base 32, RFC 4648: five bits a letter
_LENGTH = 16


def new_badge_code() -> str:
    """A code that nobody has."""
    return BADGE + "".join(secrets.choice(_LETTERS) for _ in range(_LENGTH))


def find_badge(code: str) -> Account | None:
    """Whose badge it is; None for a code that belongs to nobody, or to an account that is closed."""
    return Account.objects.filter(badge=_kept(code), is_active=True).first()


def save_badge(account_id: str, code: str, pin: str) -> None:
    """The account has this badge and PIN from now on, and no other. Raises Missing."""
    if not Account.objects.filter(pk=account_id, is_active=True).update(badge=_kept(code), pin=make_password(pin)):
        raise Missing("account", account_id)


def save_no_badge(username: str) -> None:
    """The account has no badge any more. Raises Missing."""
    account = lock_account(username)
    if account is None:
        raise Missing("account", username)
    Account.objects.filter(pk=account.pk).update(badge=None, pin="")


def _kept(code: str) -> str:
    return hashlib.sha256(code.strip().encode()).hexdigest()


class BadgeBackend:
    """Signs in by badge and PIN, for Django's own `authenticate`, so that wrong PINs are counted and locked out like wrong passwords.

    The credential is called a secret: what Django tells others about a failed try is masked by that word.
    """

    def authenticate(self, request: HttpRequest | None, username: str, pin_secret: str) -> Account | None:
        """The account of that name, where it has a badge and this is its PIN. As slow for a name that is not there."""
        account = Account.objects.filter(username=username, is_active=True).first()
        kept = account.pin if account and account.pin else make_password(None)
        return account if check_password(pin_secret, kept) and account and account.badge else None

    def get_user(self, user_id: int) -> AbstractBaseUser | None:
        """Who is signed in, on every later request."""
        return Account.objects.filter(pk=user_id, is_active=True).first()
