"""No personal data in the log: neither the address that was asked for nor an exception's words reach a line."""

import io
import logging
from collections.abc import Iterator
from typing import Any

import pytest
from django.conf import settings
from django.test import Client
from tests import small_bench
from tests.bench_fixtures import guarded

from dosewright.config.log_lines import PlainLines
from dosewright.core.custody.event import Role
from dosewright.store.cards import load_card
from dosewright.store.models import Account
from dosewright.web import card_screen

__all__ = ["guarded"]

NAMES = ("Wilhelmina", "Okonedo", "p1", "RX1", "671044016792858")


@pytest.fixture
def log() -> Iterator[io.StringIO]:
    """What the settings' own handler would write."""
    logging_settings: dict[str, Any] = settings.LOGGING
    assert logging_settings["formatters"]["plain"] == {"()": f"{PlainLines.__module__}.{PlainLines.__qualname__}"}
    assert logging_settings["handlers"]["console"]["formatter"] == "plain"
    written = io.StringIO()
    handler = logging.StreamHandler(written)
    handler.setFormatter(PlainLines())
    root = logging.getLogger()
    root.addHandler(handler)
    yield written
    root.removeHandler(handler)


def test_a_request_is_told_by_its_status_and_the_name_of_its_address(guarded: None, log: io.StringIO) -> None:
    small_bench.opened()
    client = Client(raise_request_exception=False)
    account = Account.objects.create_account("dora", "tern-street-2026", name="Dora", role=Role.DRIVER)
    client.force_login(account, backend="django.contrib.auth.backends.ModelBackend")
    client.get("/people/p1")
    client.get("/people/Wilhelmina/Okonedo-Hart/none")
    client.get("/api/cards/671044016792858")
    lines = log.getvalue().splitlines()
    assert [line.split(": ", 1)[1] for line in lines] == ["403 GET person", "404 GET no such address", "401 GET api:card"]
    assert not [name for name in NAMES if name in log.getvalue()]


def test_a_fault_is_told_by_its_kind_and_way_without_its_words(guarded: None, log: io.StringIO, monkeypatch: pytest.MonkeyPatch) -> None:
    number = small_bench.released()

    def failing(*_: object) -> None:
        try:
            raise ValueError(f"{load_card(number).person.name} holds RX1")
        except ValueError as error:
            raise RuntimeError("the card of Wilhelmina Okonedo-Hart") from error

    monkeypatch.setattr(card_screen, "load_bench_card", failing)
    client = Client(raise_request_exception=False)
    account = Account.objects.create_account("tess", "tern-street-2026", name="Tess", role=Role.TECHNICIAN)
    client.force_login(account, backend="django.contrib.auth.backends.ModelBackend")
    assert client.get(f"/cards/{number}").status_code == 500
    assert "500 GET card" in log.getvalue()
    assert "builtins.ValueError" in log.getvalue()
    assert "builtins.RuntimeError" in log.getvalue()
    assert "test_log_lines.py" in log.getvalue()
    assert not [name for name in (*NAMES, number) if name in log.getvalue()]


def test_nobody_writes_lines_of_their_own() -> None:
    record = logging.LogRecord("x", logging.WARNING, "", 0, "one\n2026-03-02 INFO forged", None, None)
    assert len(PlainLines().format(record).splitlines()) == 1
