"""People signed in at a bench whose clock stands at half past eleven on that Monday."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from django.test import Client
from tests.bench_fixtures import guarded, many_stations

from dosewright.core.custody.event import Role
from dosewright.devices.clock import FixedClock
from dosewright.store.models import Account

__all__ = ["PASSWORD", "SignIn", "guarded", "many_stations"]

PASSWORD = "tern-street-2026"
SignIn = Callable[[Role], Client]


@pytest.fixture(autouse=True)
def _clock(settings: Any) -> None:
    settings.BENCH_CLOCK = FixedClock(datetime(2026, 3, 2, 11, 30, tzinfo=UTC))


@pytest.fixture
def sign_in(guarded: None, settings: Any) -> SignIn:
    """`sign_in(Role.CHECKER)`: a browser in which somebody of that role is signed in; the same account each time."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # quick; argon2 is tried where it matters

    def signed_in(role: Role) -> Client:
        home = _home() if role is Role.CARER else None
        account = Account.objects.filter(username=role.value).first()
        account = account or Account.objects.create_account(role.value, PASSWORD, name=f"The {role.value}", role=role, home=home)
        client = Client()
        client.force_login(account, backend="django.contrib.auth.backends.ModelBackend")
        return client

    return signed_in


def _home() -> str:
    from dosewright.core.units.ids import HomeId  # noqa: PLC0415  the store needs Django set up
    from dosewright.store.people import save_home  # noqa: PLC0415

    save_home(HomeId("lindens"), "The Lindens")
    return "lindens"
