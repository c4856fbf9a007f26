"""Signing in with argon2, the lock-out, and what a browser may keep."""

from datetime import timedelta

import pytest
from django.contrib.auth.hashers import identify_hasher
from django.contrib.sessions.models import Session
from django.db import connection
from django.test import Client
from django.utils import timezone
from tests.web.conftest import PASSWORD, SignIn

from dosewright.core.custody.event import Role
from dosewright.store.ledger import load_entries
from dosewright.store.models import Account

pytestmark = pytest.mark.usefixtures("guarded")
GOOD = {"username": "tamm", "password": PASSWORD, "station": "bench 3"}


@pytest.fixture
def account(guarded: None) -> Account:
    return Account.objects.create_account("tamm", PASSWORD, name="R. Tamm", role=Role.TECHNICIAN)


def test_a_password_is_kept_by_argon2(account: Account) -> None:
    assert identify_hasher(account.password).algorithm == "argon2"


def test_signing_in_and_out_is_on_record_with_the_station(account: Account) -> None:
    client = Client()
    assert client.post("/sign-in", GOOD)["Location"] == "/"
    assert client.post("/sign-out")["Location"] == "/sign-in"
    said = [(entry.event, entry.who_name, entry.station) for entry in load_entries("account")]
    assert said == [("signed in", "R. Tamm", "bench 3"), ("signed out", "R. Tamm", "bench 3")]


def test_the_fifth_wrong_password_locks_the_account_for_the_right_one_too(account: Account) -> None:
    client = Client()
    answers = [client.post("/sign-in", {**GOOD, "password": "wrong"}).status_code for _ in range(5)]
    assert answers == [422, 422, 422, 422, 429]
    assert client.post("/sign-in", GOOD).status_code == 429
    assert "sessionid" not in client.cookies


def test_a_wrong_name_and_a_wrong_password_look_the_same(account: Account) -> None:
    def told(**wrong: str) -> bytes:
        page: bytes = Client().post("/sign-in", {**GOOD, **wrong}).content
        return page.split(b"<h1")[1].split(b"<form")[0]

    assert b"do not belong together" in told(username="nobody")
    assert told(username="nobody") == told(password="wrong")


def test_a_closed_account_signs_nobody_in(account: Account) -> None:
    Account.objects.filter(pk=account.pk).update(is_active=False)
    assert Client().post("/sign-in", GOOD).status_code == 422


ELSEWHERE = ["https://elsewhere.example/", "//elsewhere.example/", "javascript:alert(1)", "/\\elsewhere.example"]


@pytest.mark.parametrize("wanted", ELSEWHERE)
def test_signing_in_never_leads_out_of_the_bench(wanted: str, account: Account) -> None:
    assert Client().post("/sign-in", {**GOOD, "next": wanted})["Location"] == "/"


def test_a_station_that_somebody_wrote_into_the_cookie_does_not_count(account: Account) -> None:
    client = Client()
    client.post("/sign-in", GOOD)
    client.cookies["station"] = "bench 9"
    assert b"station not named" in client.get("/").content


def test_every_page_forbids_inline_scripts_and_copies_in_the_browser(sign_in: SignIn) -> None:
    for answer in (Client().get("/sign-in"), sign_in(Role.TECHNICIAN).get("/"), sign_in(Role.DRIVER).get("/")):
        policy = answer["Content-Security-Policy"]
        assert "script-src 'self'" in policy
        assert "unsafe" not in policy
        assert answer["Cache-Control"] == "no-store"
        assert answer["X-Frame-Options"] == "DENY"
        assert b"<script>" not in answer.content
        assert b"style=" not in answer.content
        assert b"onclick" not in answer.content


def test_a_session_ends_by_itself_with_the_station_s_hours(account: Account) -> None:
    client = Client()
    client.post("/sign-in", GOOD)
    assert client.get("/").status_code == 200
    (session,) = Session.objects.all()
    assert session.expire_date - timezone.now() <= timedelta(hours=12)
    Session.objects.update(expire_date=timezone.now() - timedelta(seconds=1))
    assert client.get("/")["Location"].startswith("/sign-in")


def test_what_goes_wrong_is_said_in_our_words_and_shows_nothing_of_the_inside(account: Account) -> None:
    strict = Client(enforce_csrf_checks=True, raise_request_exception=False)
    assert b"There is nothing at this address." in strict.get("/no/such/place").content
    assert b"This form is no longer good." in strict.post("/sign-in", GOOD).content
    with connection.cursor() as cursor:
        cursor.execute("ALTER TABLE store_cardset RENAME TO gone")
    try:
        broken = Client(raise_request_exception=False)
        broken.force_login(account, backend="django.contrib.auth.backends.ModelBackend")
        answer = broken.get("/")
    finally:
        with connection.cursor() as cursor:
            cursor.execute("ALTER TABLE gone RENAME TO store_cardset")
    assert answer.status_code == 500
    assert b"Something went wrong here." in answer.content
    assert b"store_cardset" not in answer.content
