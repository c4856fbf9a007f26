"""Programs that call the bench's actions over HTTP, at half past eleven on that Monday."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from itertools import count
from typing import Any, Protocol

import pytest
from django.core.cache import cache
from django.test import Client
from tests.bench_fixtures import guarded, many_stations, on

from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.tokens import TokenAsk, givable
from dosewright.core.units.ids import HomeId
from dosewright.devices.clock import FixedClock
from dosewright.store.accounts import actor_of
from dosewright.store.api_tokens import hash_of, save_token
from dosewright.store.models import Account
from dosewright.store.people import save_home

__all__ = ["PASSWORD", "Program", "Programs", "guarded", "many_stations"]

PASSWORD = "tern-street-2026"
_keys = count(1)


@dataclass(frozen=True)
class Program:
    """A program with a token. Answers are (status, JSON)."""

    token: str
    account: Account

    def get(self, path: str) -> tuple[int, Any]:
        answer = Client().get(f"/api{path}", headers={"Authorization": f"Bearer {self.token}"})
        return answer.status_code, json.loads(answer.content) if "json" in answer["Content-Type"] else answer.content

    def post(self, path: str, body: Any = None, *, key: str = "", kind: str = "application/json") -> tuple[int, Any]:
        data = body if isinstance(body, bytes) else json.dumps(body or {}).encode()
        headers = {"Authorization": f"Bearer {self.token}", "Idempotency-Key": key or f"key-number-{next(_keys)}"}
        answer = Client().generic("POST", f"/api{path}", data, content_type=kind, headers=headers)
        return answer.status_code, json.loads(answer.content)


class Programs(Protocol):
    """`programs(Role.CHECKER)`: a program that may do all that the role may; `name` another person's, `home` one home's."""

    def __call__(
        self, role: Role, name: str = "", *, home: str | None = None, abilities: Iterable[Ability] | None = None, until: date = ...
    ) -> Program: ...


@pytest.fixture(autouse=True)
def _clock(settings: Any) -> Iterator[None]:
    settings.BENCH_CLOCK = FixedClock(datetime(2026, 3, 2, 11, 30, tzinfo=UTC))
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # quick; argon2 is tried where it matters
    cache.clear()
    yield
    cache.clear()


@pytest.fixture
def programs(guarded: None) -> Programs:
    """Makes programs; the same person's account each time."""

    def made(
        role: Role, name: str = "", *, home: str | None = None, abilities: Iterable[Ability] | None = None, until: date = date(2026, 6, 1)
    ) -> Program:
        who = name or f"{role.value} one"
        for known in {home, "lindens" if role is Role.CARER else None} - {None}:
            save_home(HomeId(str(known)), f"The {known}")
        account = Account.objects.filter(username=who).first()
        own = home or ("lindens" if role is Role.CARER else None) if role is Role.CARER else None
        account = account or Account.objects.create_account(who, PASSWORD, name=f"The {who}", role=role, home=own)
        token = f"dw_test-{next(_keys)}"
        may = frozenset(givable(role) if abilities is None else abilities)
        ask = TokenAsk("a program", actor_of(account), may, HomeId(home) if home else None, until)
        save_token(ask, actor_of(account), hash_of(token), on(Role.MANAGER))
        return Program(token, account)

    return made
