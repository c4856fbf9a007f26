"""Fixtures of the tests that need the store: people at the bench, a clock, and a ledger that may be tampered with."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection

from dosewright.core.custody.event import Actor, Occasion, Role
from dosewright.core.units.ids import HomeId, StationId
from dosewright.store.guards import guard_ledger, unguard_ledger

__all__ = ["MONDAY", "actor", "elsewhere", "guarded", "many_stations", "on"]

MONDAY = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def actor(role: Role, name: str = "", home: str | None = None) -> Actor:
    """Somebody of a role; the id is the name."""
    known = name or f"{role.value} one"
    return Actor(known, known, role, HomeId(home) if home else None)


def on(role: Role = Role.TECHNICIAN, name: str = "", *, minutes: int = 0, token: str = "") -> Occasion:
    """Somebody of a role at bench 1, so many minutes after nine on that Monday."""
    return Occasion(actor(role, name), MONDAY + timedelta(minutes=minutes), StationId("bench 1"), token)


@pytest.fixture
def guarded(db: None) -> None:
    """The ledger's triggers are up, whatever ran before."""
    guard_ledger(connection)


@pytest.fixture
def many_stations(transactional_db: None) -> Iterator[None]:
    """Real transactions, seen by several threads. The triggers come down at the end, so that the tables can be emptied."""
    guard_ledger(connection)
    yield
    unguard_ledger(connection)


def elsewhere(occasion: Occasion, station: str) -> Occasion:
    """The same, at another station."""
    return replace(occasion, station=StationId(station))
