"""Tokens of other programs ⇄ rows, and the keys of what they sent. The token itself is nowhere: only its hash."""

import hashlib
import json
from dataclasses import dataclass, replace
from datetime import date, datetime

from django.db import IntegrityError, transaction
from django.db.models import QuerySet

from dosewright.core.custody.event import Actor, Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.tokens import TokenAsk
from dosewright.core.units.ids import HomeId
from dosewright.store.accounts import actor_of
from dosewright.store.missing import Missing
from dosewright.store.models import ApiToken, RequestKey

__all__ = [
    "StoredToken",
    "find_token",
    "hash_is_known",
    "hash_of",
    "load_tokens",
    "lock_made_by",
    "lock_token",
    "same_request",
    "save_token",
    "save_token_revoked",
]


@dataclass(frozen=True, slots=True)
class StoredToken:
    """A token: whom it acts for (bounded to its home), what it may do, what became of it. `username`: what the account signs in with;
    `maker`: the token by which a program made it, None where somebody made it at the bench."""

    id: int
    name: str
    actor: Actor
    username: str
    account_open: bool
    abilities: frozenset[Ability]
    until: date
    made_by: str
    made_at: datetime
    revoked_by: str
    revoked_at: datetime | None
    maker: int | None = None


def hash_of(token: str) -> str:
    """Hex SHA-256. No salt and no stretching: a token is 256 random bits, which nobody guesses."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def find_token(token: str) -> StoredToken | None:
    """The token that somebody sent, or None."""
    row = _rows().filter(hash=hash_of(token)).first()
    return _stored(row) if row else None


def load_tokens() -> tuple[StoredToken, ...]:
    """Every token ever made, latest first."""
    return tuple(_stored(row) for row in _rows().order_by("-made_at", "-id"))


def lock_token(token: int) -> StoredToken:
    """Kept from the other stations until the transaction ends. Raises Missing."""
    row = _rows().select_for_update(of=("self",)).filter(pk=token).first()
    if row is None:
        raise Missing("token", str(token))
    return _stored(row)


def save_token(ask: TokenAsk, acts_for: Actor, token_hash: str, on: Occasion, maker: int | None = None) -> int:
    """Keep a new token by its hash; `maker`: the token by which a program made it. Its id."""
    said = {"made_by": on.by.name, "made_by_id": on.by.id, "made_at": on.at, "maker_id": maker}
    abilities = json.dumps(sorted(ask.abilities))
    row = ApiToken.objects.create(
        name=ask.name, account_id=int(acts_for.id), abilities=abilities, home_id=ask.home, hash=token_hash, until=ask.until, **said
    )
    return row.pk


def lock_made_by(token: int) -> tuple[StoredToken, ...]:
    """Every token that was made by that one, or by one of those, and counts still; kept from the other stations, in order of making."""
    rows = _rows().select_for_update(of=("self",)).filter(maker_id=token).order_by("pk")
    found = tuple(one for row in rows for one in (_stored(row), *lock_made_by(row.pk)))
    return tuple(one for one in found if one.revoked_at is None)


def hash_is_known(token_hash: str) -> bool:
    """Whether there is a token of this hash, in force or not."""
    return ApiToken.objects.filter(hash=token_hash).exists()


def save_token_revoked(token: int, on: Occasion) -> None:
    """It counts no more from now on."""
    ApiToken.objects.filter(pk=token).update(revoked_by=on.by.name, revoked_by_id=on.by.id, revoked_at=on.at)


def same_request(whose: str, key: str, fingerprint: str, at: datetime) -> bool:
    """Keep which request the key came with first; False where it came with another before."""
    held = hashlib.sha256(f"{whose}\x1f{key}".encode()).hexdigest()
    try:
        with transaction.atomic():
            RequestKey.objects.create(key=held, fingerprint=fingerprint, at=at)
    except IntegrityError:
        return RequestKey.objects.get(key=held).fingerprint == fingerprint
    return True


def _rows() -> QuerySet[ApiToken]:
    return ApiToken.objects.select_related("account")


def _stored(row: ApiToken) -> StoredToken:
    actor = actor_of(row.account)
    known = {ability.value for ability in Ability}
    return StoredToken(
        id=row.pk,
        name=row.name,
        actor=replace(actor, home=HomeId(row.home_id) if row.home_id else actor.home),
        username=row.account.username,
        account_open=row.account.is_active,
        abilities=frozenset(Ability(value) for value in json.loads(row.abilities) if value in known),
        until=row.until,
        made_by=row.made_by,
        made_at=row.made_at,
        revoked_by=row.revoked_by,
        revoked_at=row.revoked_at,
        maker=row.maker_id,
    )
