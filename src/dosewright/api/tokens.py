"""Tokens by programs: listed, revoked, and made, never with more than the token has by which it is made, and in no other name."""

from datetime import date, datetime
from typing import Annotated

from annotated_types import MaxLen
from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.make_token import make_token
from dosewright.actions.revoke_token import revoke_token
from dosewright.api.answer import Answer, answer
from dosewright.api.door import Scope, secret_of_program
from dosewright.api.fields import Code
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.tokens import TokenAsk
from dosewright.core.units.ids import HomeId
from dosewright.store.accounts import find_actor
from dosewright.store.api_tokens import StoredToken, hash_of, load_tokens

__all__ = ["TokenIn", "TokenMade", "TokenOut", "make", "revoke", "router", "tokens"]

router = Router(tags=["tokens"])
_ALL = Scope.PHARMACY


class TokenOut(Schema):
    """A token without its secret. `maker`: the token by which a program made it, null for one that was made at the bench."""

    id: int
    name: str
    acts_for: str
    may: list[str]
    home: str | None
    until: date
    made_by: str
    made_at: datetime
    maker: int | None
    revoked_by: str
    revoked_at: datetime | None


class TokenIn(Schema):
    """What the program is called, what it may do, at which home alone (null: as the account may), until the end of which day."""

    name: Annotated[Code, MaxLen(40)]
    abilities: Annotated[list[Ability], MaxLen(len(Ability))]
    until: date
    home: Code | None = None


class TokenMade(Answer):
    """`token`: the secret; the server keeps its hash only."""

    token: str


@offer(router, gives("tokens", "/tokens", Ability.MAKE_TOKEN, scope=_ALL), out=list[TokenOut])
def tokens(request: ApiRequest) -> list[dict[str, object]]:
    """Every token ever made, latest first."""
    return [_out(stored) for stored in load_tokens()]


@offer(router, does("make-token", "/tokens", Ability.MAKE_TOKEN, scope=_ALL), out=TokenMade)
def make(request: ApiRequest, body: TokenIn) -> HttpResponse:
    """A token in the same person's name, with rights, home and last day within those of the one that asks; it ends with it. `made` is its
    number."""
    secret, home = secret_of_program(request), HomeId(body.home) if body.home else None
    ask = TokenAsk(body.name.strip(), find_actor(request.auth.username), frozenset(body.abilities), home, body.until)
    return answer(make_token(ask.name, request.auth.on, ask, hash_of(secret), int(request.auth.token)), token=secret)


@offer(router, does("revoke-token", "/tokens/{int:token}/revoke", Ability.MAKE_TOKEN, scope=_ALL))
def revoke(request: ApiRequest, token: int) -> HttpResponse:
    """It counts no more with its next request, and with it every token that it made."""
    return answer(revoke_token(token, request.auth.on))


def _out(stored: StoredToken) -> dict[str, object]:
    same = ("id", "name", "until", "made_by", "made_at", "maker", "revoked_by", "revoked_at")
    who = {"acts_for": stored.actor.name, "home": stored.actor.home, "may": sorted(stored.abilities)}
    return {**{name: getattr(stored, name) for name in same}, **who}
