"""Who signs in: listed, somebody new, a new password, a badge that is void, an account that is closed.

As at the bench each change asks for the password of whoever the program acts for: who may let others in must be who they are taken to be. A
name to sign in with stands in the body, never in an address: addresses are written into logs.
"""

from typing import Annotated

from django.http import HttpResponse
from ninja import Router, Schema
from pydantic import StringConstraints

from dosewright.actions.add_account import add_account
from dosewright.actions.close_account import close_account
from dosewright.actions.set_password import set_password
from dosewright.actions.take_badge import take_badge
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.api.signature import require_signature
from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import HomeId
from dosewright.store.accounts import NewAccount, load_accounts

__all__ = ["AccountIn", "AccountOut", "NewPasswordIn", "WhoseIn", "accounts", "add", "close", "password", "router", "void_badge"]

router = Router(tags=["accounts"])
_ALL = Scope.PHARMACY
_Secret = Annotated[str, StringConstraints(max_length=200)]
_Username = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9._-]{1,60}$")]


class AccountOut(Schema):
    """An account, with nothing of its secrets but whether there is a badge. `home` is the home's name."""

    username: str
    name: str
    role: Role
    home: str
    open: bool
    badge: bool


class WhoseIn(Schema):
    """By which name they sign in; and the password of whoever the program acts for."""

    username: Code
    password: _Secret


class NewPasswordIn(WhoseIn):
    """`theirs`: the new one, 10 signs at least."""

    theirs: _Secret


class AccountIn(NewPasswordIn):
    """Somebody new: the name as it is printed, the role; a home for a carer alone. `another_because`: where somebody of this name has an
    account already, how it is known that they are two people."""

    username: _Username
    name: Annotated[Code, StringConstraints(max_length=120)]
    role: Role
    home: Code | None = None
    another_because: Reason = ""


@offer(router, gives("accounts", "/accounts", Ability.SET_UP, scope=_ALL), out=list[AccountOut])
def accounts(request: ApiRequest) -> list[dict[str, object]]:
    """Everybody who signs in or did, the open ones first."""
    return [{name: getattr(one, name) for name in AccountOut.model_fields} for one in load_accounts()]


@offer(router, does("add-account", "/accounts", Ability.SET_UP, scope=_ALL))
def add(request: ApiRequest, body: AccountIn) -> HttpResponse:
    """Somebody may sign in from now on; `made` is the account's number."""
    require_signature(request, "add-account", body.password)
    who = NewAccount(body.username, body.name.strip(), body.role, HomeId(body.home) if body.home else None, body.another_because)
    return answer(add_account(body.username, request.auth.on, who, body.theirs))


@offer(router, does("set-password", "/accounts/password", Ability.SET_UP, scope=_ALL))
def password(request: ApiRequest, body: NewPasswordIn) -> HttpResponse:
    """Somebody forgot theirs; wherever they are signed in, they are signed out by it."""
    require_signature(request, "set-password", body.password)
    return answer(set_password(body.username, request.auth.on, body.theirs))


@offer(router, does("void-badge", "/accounts/void-badge", Ability.SET_UP, scope=_ALL))
def void_badge(request: ApiRequest, body: WhoseIn) -> HttpResponse:
    """A badge is lost; it opens nothing any more."""
    require_signature(request, "void-badge", body.password)
    return answer(take_badge(body.username, request.auth.on))


@offer(router, does("close-account", "/accounts/close", Ability.SET_UP, scope=_ALL))
def close(request: ApiRequest, body: WhoseIn) -> HttpResponse:
    """Somebody signs in no more, and no program acts in their name; the ledger goes on naming them."""
    require_signature(request, "close-account", body.password)
    return answer(close_account(body.username, request.auth.on))
