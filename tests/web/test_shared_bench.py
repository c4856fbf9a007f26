"""Badge and PIN at a shared bench: who may take a place, what locks it, and what nobody else gets to see."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from axes.models import AccessAttempt
from django.conf import settings as django_settings
from django.contrib.auth.hashers import identify_hasher
from django.test import Client
from tests.web.conftest import PASSWORD

from dosewright.core.custody.event import Role
from dosewright.devices.clock import FixedClock
from dosewright.store.badges import new_badge_code, save_badge
from dosewright.store.ledger import load_entries
from dosewright.store.models import Account, LedgerEntry

pytestmark = pytest.mark.usefixtures("guarded")
NOON = datetime(2026, 3, 2, 11, 30, tzinfo=UTC)
PIN = "285917"
AS_SHIPPED = django_settings.PASSWORD_HASHERS


@pytest.fixture(autouse=True)
def _quick(settings: Any) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture
def badges(guarded: None) -> dict[str, str]:
    """Two technicians, each with a badge and the same PIN: username to code."""
    made = {}
    for username in ("tamm", "okafor"):
        Account.objects.create_account(username, PASSWORD, name=f"The {username}", role=Role.TECHNICIAN)
        client = signed_in(username)
        page = client.post("/my-badge", {"pin": PIN, "again": PIN, "password": PASSWORD, "token": username})
        assert b"Your badge is made" in page.content
        made[username] = new_badge_code()
    # The code itself is kept nowhere and drawn only: these tests give the accounts codes that they know.
    for username, code in made.items():
        save_badge(str(Account.objects.get(username=username).pk), code, PIN)
    return made


def signed_in(username: str) -> Client:
    client = Client()
    answer = client.post("/sign-in", {"username": username, "password": PASSWORD, "station": "bench 3"})
    assert answer.status_code == 302
    return client


def leave(client: Client, path: str = "/", fields: Any = ()) -> None:
    client.post("/locked", {"path": path, "fields": json.dumps(list(fields)), "scan": ""})


def take(client: Client, code: str, pin: str = PIN) -> Any:
    client.post("/locked", {"scan": code})
    return client.post("/locked", {"pin": pin})


def at(settings: Any, later: timedelta) -> None:
    settings.BENCH_CLOCK = FixedClock(NOON + later)


def test_a_badge_and_its_pin_take_the_place_and_the_ledger_says_so(badges: dict[str, str]) -> None:
    client = signed_in("tamm")
    leave(client)
    assert take(client, badges["okafor"])["Location"] == "/"
    assert b"The okafor, technician" in client.get("/").content
    last = [(entry.event, entry.who_name) for entry in load_entries("account")][-2:]
    assert last == [("bench locked", "The tamm"), ("signed in by badge", "The okafor")]


def test_pin_and_badge_are_kept_as_hashes_only(badges: dict[str, str]) -> None:
    account = Account.objects.get(username="tamm")
    assert PIN not in account.pin
    assert badges["tamm"] not in str(account.badge)
    said = "".join(LedgerEntry.objects.values_list("body", flat=True))
    assert PIN not in said
    assert badges["tamm"] not in said


def test_a_pin_is_kept_by_argon2(guarded: None, settings: Any) -> None:
    settings.PASSWORD_HASHERS = AS_SHIPPED
    account = Account.objects.create_account("tamm", PASSWORD, name="The tamm", role=Role.TECHNICIAN)
    save_badge(str(account.pk), new_badge_code(), PIN)
    assert identify_hasher(Account.objects.get(pk=account.pk).pin).algorithm == "argon2"


def test_a_locked_bench_shows_nothing_but_the_badge_screen(badges: dict[str, str]) -> None:
    client = signed_in("tamm")
    leave(client)
    for path in ("/", "/people", "/stock", "/find?scan=123456789012345"):
        assert client.get(path)["Location"] == "/locked"
    assert client.post("/stock", {})["Location"] == "/locked"
    assert b"The tamm" not in client.get("/locked").content


def test_a_badge_does_nothing_at_a_bench_that_nobody_opened(badges: dict[str, str]) -> None:
    client = Client()
    answer = take(client, badges["tamm"])
    assert b"Somebody must open it with their name and password" in answer.content
    assert client.get("/").status_code == 302


def test_nor_once_the_hours_are_over(badges: dict[str, str], settings: Any) -> None:
    client = signed_in("tamm")
    leave(client)
    at(settings, settings.BENCH_OPEN + timedelta(minutes=1))
    assert b"Somebody must open it" in take(client, badges["tamm"]).content


def test_a_bench_that_nobody_touches_locks_itself_also_where_no_script_runs(badges: dict[str, str], settings: Any) -> None:
    client = signed_in("tamm")
    at(settings, settings.BENCH_IDLE)
    assert client.get("/").status_code == 200
    at(settings, settings.BENCH_IDLE * 2 + timedelta(seconds=1))
    assert client.get("/")["Location"] == "/locked"


def test_a_clock_that_is_set_back_does_not_keep_a_bench_open(badges: dict[str, str], settings: Any) -> None:
    client = signed_in("tamm")
    client.get("/")
    at(settings, -timedelta(hours=1))
    assert client.get("/")["Location"] == "/locked"


def test_a_touch_keeps_it_open(badges: dict[str, str], settings: Any) -> None:
    client = signed_in("tamm")
    for minutes in (10, 20, 30):
        at(settings, timedelta(minutes=minutes))
        assert client.post("/touch").status_code == 204
    assert client.get("/").status_code == 200


def test_what_was_typed_waits_for_whoever_typed_it_and_for_nobody_else(badges: dict[str, str]) -> None:
    client = signed_in("tamm")
    leave(client, "/people?q=wil", [["q", 0, "a few words"]])
    take(client, badges["okafor"])
    assert b"a few words" not in client.get("/people?q=wil").content
    leave(client)
    assert take(client, badges["tamm"])["Location"] == "/people?q=wil"
    assert b"a few words" in client.get("/people?q=wil").content
    assert b"a few words" not in client.get("/people?q=wil").content


def test_a_form_that_is_sent_to_a_locked_bench_is_not_carried_out_and_not_lost(badges: dict[str, str], settings: Any) -> None:
    client = signed_in("tamm")
    client.get("/stock")
    at(settings, timedelta(hours=1))
    client.post(
        "/stock", {"lot": "TYPED-1", "password": "never-kept", "token": "t"}, headers={"referer": "http://testserver/stock?bare=yes"}
    )
    assert not LedgerEntry.objects.filter(event="stock received").exists()
    assert take(client, badges["tamm"])["Location"] == "/stock?bare=yes"
    page = client.get("/stock?bare=yes").content
    assert b"TYPED-1" in page
    assert b"never-kept" not in page


@pytest.mark.parametrize("path", ["//elsewhere.example/", "https://elsewhere.example/", "/sign-out", "/no/such/place", "javascript:1"])
def test_coming_back_never_leads_out_of_the_bench_or_to_what_changes_something(badges: dict[str, str], path: str) -> None:
    client = signed_in("tamm")
    leave(client, path)
    assert take(client, badges["tamm"])["Location"] == "/"


def test_wrong_pins_lock_the_account_for_the_right_one_and_for_its_password(badges: dict[str, str]) -> None:
    client = signed_in("okafor")
    leave(client)
    client.post("/locked", {"scan": badges["tamm"]})
    answers = [client.post("/locked", {"pin": "000001"}).status_code for _ in range(5)]
    assert answers == [422, 422, 422, 422, 429]
    assert client.post("/locked", {"pin": PIN}).status_code == 429
    assert Client().post("/sign-in", {"username": "tamm", "password": PASSWORD, "station": "bench 3"}).status_code == 429
    assert client.get("/")["Location"] == "/locked"
    kept = "".join(f"{one.get_data}{one.post_data}{one.username}" for one in AccessAttempt.objects.all())
    assert "000001" not in kept
    assert badges["tamm"] not in kept


def test_a_pin_without_its_badge_opens_nothing_and_is_no_password(badges: dict[str, str]) -> None:
    client = signed_in("okafor")
    leave(client)
    assert client.post("/locked", {"pin": PIN})["Location"] == "/locked"
    assert Client().post("/sign-in", {"username": "tamm", "password": PIN, "station": "bench 3"}).status_code == 422


def test_a_badge_of_a_closed_account_and_a_void_badge_open_nothing(badges: dict[str, str], sign_in: Callable[[Role], Client]) -> None:
    manager = sign_in(Role.MANAGER)
    assert manager.post("/accounts/tamm/void-badge", {"password": PASSWORD, "token": "1"})["Location"] == "/accounts"
    assert manager.post("/accounts/okafor/close", {"password": PASSWORD, "token": "2"})["Location"] == "/accounts"
    for code in badges.values():
        client = Client()
        client.post("/sign-in", {"username": "manager", "password": PASSWORD, "station": "office"})
        leave(client)
        assert client.post("/locked", {"scan": code}).status_code == 422


def test_who_signs_in_is_changed_with_ones_own_password_only(sign_in: Callable[[Role], Client]) -> None:
    manager = sign_in(Role.MANAGER)
    new = {"username": "new.one", "name": "N. One", "role": "technician", "home": "", "theirs": "a-long-password-9", "token": "1"}
    assert manager.post("/accounts/new", {**new, "password": "not-mine"}).status_code == 422
    assert not Account.objects.filter(username="new.one").exists()
    assert manager.post("/accounts/new", {**new, "password": PASSWORD, "token": "2"}).status_code == 302
    assert Client().post("/sign-in", {"username": "new.one", "password": "a-long-password-9", "station": "b"}).status_code == 302


@pytest.mark.parametrize("pin", ["12345", "1234567890123", "111111", "123456", "987654", "12ab56", "١٢٣٤٥٦", "890123"])
def test_a_pin_that_a_bystander_would_guess_is_no_pin(pin: str, sign_in: Callable[[Role], Client]) -> None:
    answer = sign_in(Role.CHECKER).post("/my-badge", {"pin": pin, "again": pin, "password": PASSWORD, "token": pin})
    assert answer.status_code == 422
    assert Account.objects.get(username="checker").badge is None
