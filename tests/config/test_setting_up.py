"""From an empty store to the first sign-in: the pharmacy and its accounts, by commands at the machine."""

import io
from pathlib import Path

import pytest
from django.contrib.auth import authenticate
from django.http import HttpRequest

from dosewright.config.command import main
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.models import Account
from dosewright.store.people import load_timetable, save_person
from dosewright.store.pharmacy import load_pharmacy, load_rules

pytestmark = pytest.mark.usefixtures("guarded")
PASSWORD = "a long walk by the quay"
PHARMACY = [
    "pharmacy",
    "--name",
    "Tern Street",
    "--address",
    "33 Tern Street",
    "--phone",
    "01632 960471",
    "--country",
    "gb",
    "--profile",
    "uk",
]


def add(monkeypatch: pytest.MonkeyPatch, *words: str, password: str = PASSWORD) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{password}\n"))
    return main(["account", *words, "--password-stdin"])


def signs_in(password: str, username: str = "priya") -> bool:
    return authenticate(HttpRequest(), username=username, password=password) is not None


def test_the_pharmacy_is_set_up_with_the_rules_that_ship_and_may_change_them() -> None:
    assert main(PHARMACY) == 0
    first = load_pharmacy()
    assert (first.country, load_rules(first.rules).profile.name) == ("GB", "uk")
    assert main([*PHARMACY[:-1], "us", "--format", "pouch-roll-14"]) == 0
    second = load_pharmacy()
    assert (load_rules(second.rules).profile.name, load_rules(second.rules).card_format.roll) == ("us", True)
    assert second.salt == first.salt
    assert len(first.salt) >= 40


def test_its_own_dosing_times_come_from_a_file(tmp_path: Path) -> None:
    (tmp_path / "times.json").write_text('{"slots": [{"name": "early", "time": "06:30"}, {"name": "late", "time": "21:00"}]}', "utf-8")
    assert main([*PHARMACY, "--timetable", str(tmp_path / "times.json")]) == 0
    save_person(Person(PersonId("p1"), "Wilhelmina Okonedo-Hart"))
    assert [slot.name for slot in load_timetable(PersonId("p1")).slots] == ["early", "late"]


def test_a_timetable_that_is_none_is_exit_2_and_nothing_is_set_up(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "times.json").write_text("{}", "utf-8")
    assert main([*PHARMACY, "--timetable", str(tmp_path / "times.json")]) == 2
    assert "times.json" in capsys.readouterr().err
    assert list(load_entries()) == []


def test_somebody_who_was_added_signs_in_and_the_ledger_says_so_without_the_password(monkeypatch: pytest.MonkeyPatch) -> None:
    assert add(monkeypatch, "add", "priya", "--name", "Priya Raman", "--role", "pharmacist") == 0
    assert signs_in(PASSWORD)
    assert Account.objects.get(username="priya").password.startswith("argon2")
    (entry,) = load_entries()
    assert (entry.event, entry.who_name, entry.station) == ("account added", "at the machine", "console")
    assert PASSWORD not in entry.body
    assert check_ledger() == ()


WRONG = [
    pytest.param(["add", "priya", "--name", "Priya Raman", "--role", "pharmacist"], PASSWORD, "signs in by this name already", id="taken"),
    pytest.param(["add", "ada", "--name", "Ada Brigg", "--role", "carer"], PASSWORD, "belongs to a home", id="a carer of no home"),
    pytest.param(["add", "tess", "--name", "Tess Aldous", "--role", "technician"], "short", "will not do", id="a short password"),
    pytest.param(["add", "tess", "--name", "Tess Aldous", "--role", "technician"], "password123", "will not do", id="a common password"),
    pytest.param(["add", "tess", "--role", "technician"], PASSWORD, "needs --name", id="nobody's name"),
    pytest.param(["password", "nobody"], PASSWORD, "no account nobody", id="nobody to give a password to"),
    pytest.param(["password", "priya"], "short", "will not do", id="a weak new password"),
]


@pytest.mark.parametrize(("words", "password", "says"), WRONG)
def test_what_cannot_be_is_exit_2_with_the_reason(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], words: list[str], password: str, says: str
) -> None:
    add(monkeypatch, "add", "priya", "--name", "Priya Raman", "--role", "pharmacist")
    assert add(monkeypatch, *words, password=password) == 2
    assert says in capsys.readouterr().err
    assert [account.username for account in Account.objects.all()] == ["priya"]
    assert signs_in(PASSWORD)


def test_another_password_and_then_none(monkeypatch: pytest.MonkeyPatch) -> None:
    add(monkeypatch, "add", "priya", "--name", "Priya Raman", "--role", "pharmacist")
    assert add(monkeypatch, "password", "priya", password="another walk by the quay") == 0
    assert not signs_in(PASSWORD)
    assert signs_in("another walk by the quay")
    assert main(["account", "close", "priya"]) == 0
    assert not signs_in("another walk by the quay")
    assert [entry.event for entry in load_entries()] == ["account added", "password changed", "account closed"]


def test_too_many_wrong_passwords_lock_the_account(monkeypatch: pytest.MonkeyPatch) -> None:
    add(monkeypatch, "add", "priya", "--name", "Priya Raman", "--role", "pharmacist")
    for _ in range(5):
        assert not signs_in("wrong")
    assert not signs_in(PASSWORD)
