"""Sessions, cookies, headers and secrets, as docs/security.md says; each test is a row of its table."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client
from tests.bench_fixtures import guarded, on
from tests.house.source_tree import tracked_text

from dosewright.actions.set_password import set_password
from dosewright.api.offer import ROUTES
from dosewright.core.custody.event import Role
from dosewright.store.accounts import NewAccount, weaknesses
from dosewright.store.models import Account
from dosewright.web.rights import SCREENS

__all__ = ["guarded"]

PASSWORD = "tern-street-2026"
GOOD = {"username": "tess", "password": PASSWORD, "station": "bench 3"}
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def account(guarded: None) -> Account:
    """Tess signs in."""
    return Account.objects.create_account("tess", PASSWORD, name="Tess Aldous", role=Role.TECHNICIAN)


_WANTED = (
    "SESSION_COOKIE_NAME",
    "SESSION_COOKIE_SECURE",
    "CSRF_COOKIE_SECURE",
    "SECURE_SSL_REDIRECT",
    "SECURE_HSTS_SECONDS",
    "SECRET_KEY",
)


def with_https(**environment: str) -> dict[str, object]:
    """The settings that count where `DOSEWRIGHT_HTTPS` is set, read in a process of their own."""
    code = f"import json; from dosewright.config import settings as s; print(json.dumps({{n: getattr(s, n) for n in {_WANTED}}}))"
    kept = {**os.environ, "DOSEWRIGHT_HTTPS": "yes", "PYTHONPATH": "src", **environment}
    said = subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=kept, capture_output=True, text=True, check=True, timeout=120)
    found: dict[str, object] = json.loads(said.stdout)
    return found


def test_signing_in_makes_a_new_session_and_signing_out_ends_it(account: Account) -> None:
    client = Client()
    client.get("/sign-in")
    client.post("/sign-in", GOOD)
    first = client.cookies["sessionid"].value
    client.post("/sign-out")
    client.post("/sign-in", GOOD)
    assert client.cookies["sessionid"].value != first
    thief = Client()
    thief.cookies["sessionid"] = first
    assert thief.get("/").status_code == 302


def test_a_changed_password_ends_every_session_that_the_old_one_began(account: Account) -> None:
    client = Client()
    client.post("/sign-in", GOOD)
    assert client.get("/").status_code == 200
    assert set_password("tess", on(Role.MANAGER), "another-street-2027").done
    assert client.get("/").status_code == 302


def test_cookies_are_for_this_host_only_unread_by_scripts_and_sent_to_nobody_else(account: Account, tmp_path: Path) -> None:
    client = Client()
    client.get("/sign-in")
    client.post("/sign-in", GOOD)
    for name in ("sessionid", "csrftoken", "station"):
        cookie = client.cookies[name]
        assert (cookie["httponly"], cookie["samesite"], cookie["domain"]) == (True, "Strict", ""), name
    said = with_https(DOSEWRIGHT_HOME=str(tmp_path))
    assert said["SESSION_COOKIE_NAME"] == "__Host-session"
    assert all(said[name] is True for name in ("SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE", "SECURE_SSL_REDIRECT"))
    assert said["SECURE_HSTS_SECONDS"] == 365 * 24 * 60 * 60


def test_every_answer_forbids_what_a_page_of_ours_never_needs(account: Account) -> None:
    for path in ("/sign-in", "/no/such/place", "/api/cards", "/api/openapi.json"):
        answer = Client().get(path)
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Referrer-Policy"] == "same-origin"
        assert answer["Cache-Control"] == "no-store"
        assert answer["X-Frame-Options"] == "DENY"
        assert "default-src 'none'" in answer["Content-Security-Policy"]
        assert "Access-Control-Allow-Origin" not in answer
        assert "Server" not in answer
        assert ("attachment" in answer.get("Content-Disposition", "")) is path.startswith("/api/")


def test_no_template_has_a_script_or_a_style_of_its_own() -> None:
    templates = {path: text for path, text in tracked_text().items() if path.suffix == ".html"}
    assert len(templates) > 20
    events = r"abort|blur|change|click|error|focus|input|key\w+|load|mouse\w+|pointer\w+|submit|toggle"
    wrong = re.compile(rf"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son(?:{events})=|javascript:|https?://", re.IGNORECASE)
    assert not [f"{path}: {found[0]}" for path, text in templates.items() if (found := wrong.search(text))]


def test_a_password_has_twelve_characters_is_no_common_one_and_may_be_long_and_of_any_letters() -> None:
    who = NewAccount("tess", "Tess Aldous", Role.TECHNICIAN)
    for bad in ("short-words", "password1234", "tess-aldous-"):
        assert weaknesses(bad, who), bad
    for good in ("four words and blanks", "x9 " * 40, "мята и тимьян", "🐟🦑🐙🦀🐚🦞🐠🐡🦐🐋🐳🐬"):
        assert weaknesses(good, who) == (), good


def test_no_address_holds_more_than_an_opaque_id() -> None:
    """Names, birth dates and directions travel in bodies. What stands in an address is a number or an id that the pharmacy was given."""
    ids = {"order", "wording", "unused", "token", "person", "set_id", "kind", "page", "sheet", "medicine", "lot", "number", "rule"}
    ids |= {"username", "change", "work", "note", "whose", "which", "gtin"}  # of staff, of records, of a pack
    places = {"row", "column", "dispense", "line", "home"}  # a home is a house, and names nobody
    for path in (*(address.path for address in SCREENS), *(route.path for route in ROUTES)):
        assert set(re.findall(r"[<{](?:\w+:)?(\w+)[>}]", path)) <= ids | places, path


def test_secrets_come_from_the_environment_or_a_file_of_the_pharmacy_and_never_from_the_code(tmp_path: Path) -> None:
    assert with_https(DOSEWRIGHT_HOME=str(tmp_path), DOSEWRIGHT_SECRET_KEY="only-for-this-test")["SECRET_KEY"] == "only-for-this-test"
    made = with_https(DOSEWRIGHT_HOME=str(tmp_path), DOSEWRIGHT_SECRET_KEY="")["SECRET_KEY"]
    assert isinstance(made, str)
    assert len(made) >= 50
    (kept,) = [path for path in tmp_path.iterdir() if path.is_file() and made in path.read_text("utf-8", "replace")]
    assert kept.stat().st_mode & 0o077 == 0
    written = re.compile(r"SECRET_KEY\s*=\s*[\"']|BEGIN [A-Z ]*PRIVATE KEY|://\w+:[^@{\s]+@", re.ASCII)
    source = {path: text for path, text in tracked_text().items() if path.parts[0] == "src"}
    assert not [str(path) for path, text in source.items() if written.search(text)]


def test_what_is_sent_is_bounded() -> None:
    assert settings.DATA_UPLOAD_MAX_MEMORY_SIZE <= 2 * 1024 * 1024
    assert settings.FILE_UPLOAD_MAX_MEMORY_SIZE <= 2 * 1024 * 1024
    assert settings.DATA_UPLOAD_MAX_NUMBER_FIELDS <= 1000
    assert not settings.DEBUG
