"""The commands of the running system: ledger, backup, restore, trace, serve, and the settings they read."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from django.db import connection
from tests import small_bench as bench

from dosewright.cli.files import Unreadable
from dosewright.config.command import main
from dosewright.config.ledger import format_head, parse_head
from dosewright.config.secret import load_secret
from dosewright.config.serve import process_count
from dosewright.config.table import CONFIG, read_setting
from dosewright.store.guards import unguard_ledger
from dosewright.store.ledger import load_head
from dosewright.store.models import LedgerEntry

pytestmark = pytest.mark.usefixtures("guarded")


def test_a_ledger_that_holds_is_said_in_one_line_and_exit_0(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bench.opened()
    head = tmp_path / "head.json"
    assert main(["ledger", "head", "--out", str(head)]) == 0
    assert main(["ledger", "verify", "--head", str(head)]) == 0
    assert load_head().hash in capsys.readouterr().out


def test_a_broken_ledger_is_exit_1_and_says_where(capsys: pytest.CaptureFixture[str]) -> None:
    bench.opened()
    unguard_ledger(connection)
    LedgerEntry.objects.filter(sequence=2).update(who_name="somebody else")
    assert main(["ledger", "verify"]) == 1
    assert "Entry 2 does not match its own hash" in capsys.readouterr().out


def test_a_cut_off_tail_is_found_by_the_exported_head(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bench.opened()
    (tmp_path / "head.json").write_text(format_head(load_head()).replace('"sequence": 4', '"sequence": 40'), "utf-8")
    assert main(["ledger", "verify", "--head", str(tmp_path / "head.json")]) == 1
    assert "its tail was cut off" in capsys.readouterr().out


HEADS = [
    "",
    "{}",
    "[]",
    '{"sequence": true, "hash": "0"}',
    '{"sequence": 1, "hash": "xyz"}',
    '{"sequence": -1, "hash": "' + "0" * 64 + '"}',
]


@pytest.mark.parametrize("text", HEADS)
def test_a_head_that_is_none_is_exit_2(tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "head.json").write_text(text, "utf-8")
    assert main(["ledger", "verify", "--head", str(tmp_path / "head.json")]) == 2
    assert "is not a ledger head" in capsys.readouterr().err


def test_a_head_is_written_and_read_back(tmp_path: Path) -> None:
    bench.opened()
    (tmp_path / "head.json").write_text(format_head(load_head()), "utf-8")
    assert parse_head(str(tmp_path / "head.json")) == load_head()


def test_backup_writes_a_file_for_its_owner_only(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bench.opened()
    place = tmp_path / "safe" / "monday"
    assert main(["backup", str(place)]) == 0
    assert place.stat().st_mode & 0o777 == 0o600
    assert [entry.name for entry in place.parent.iterdir()] == ["monday"]
    assert "rows written" in capsys.readouterr().out


def test_backup_that_cannot_be_written_is_exit_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["backup", "/dev/null/nowhere"]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_restore_into_a_store_in_use_or_from_a_damaged_file_is_exit_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bench.opened()
    main(["backup", str(tmp_path / "monday")])
    assert main(["restore", str(tmp_path / "monday")]) == 2
    assert "the store is not empty" in capsys.readouterr().err
    (tmp_path / "bad").write_bytes(b"nothing")
    assert main(["restore", str(tmp_path / "bad")]) == 2
    assert "is damaged or no backup" in capsys.readouterr().err
    assert main(["restore", str(tmp_path / "absent")]) == 2
    assert "cannot be read" in capsys.readouterr().err


def test_trace_goes_from_a_lot_to_every_cavity_and_person_and_says_where_all_units_are(capsys: pytest.CaptureFixture[str]) -> None:
    card = bench.filled()
    assert main(["trace", "K2207"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "metformin-500 lot K2207: 100 received; 96 in stock, 3.5 in cards, 0 given, 0 returned, 0.5 waste"
    assert len(lines) == 8
    assert lines[1] == (
        f"card {card} (filled) Wilhelmina Okonedo-Hart: row 1 column 2, 2026-03-02 18:00 evening: "
        "0.5 metformin-500 lot K2207 expires 2027-06-30"
    )


def test_trace_goes_from_a_card_to_every_lot_in_it(capsys: pytest.CaptureFixture[str]) -> None:
    card = bench.filled()
    assert main(["trace", f"{card[:5]} {card[5:10]} {card[10:]}"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 14
    assert {line.rsplit(" lot ", 1)[1].split()[0] for line in lines} == {"LOT42A", "K2207"}


def test_trace_of_something_unknown_is_exit_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trace", "NOWHERE"]) == 2
    assert "no lot and no card is called NOWHERE" in capsys.readouterr().err


def test_sqlite_is_served_by_one_process(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DOSEWRIGHT_PROCESSES", "2")
    assert process_count("django.db.backends.postgresql") == 2
    with pytest.raises(Unreadable, match="one process"):
        process_count("django.db.backends.sqlite3")


@pytest.mark.parametrize("text", ["0", "-1", "many", "70000"])
def test_a_setting_that_is_no_number_is_said_by_name(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setenv("DOSEWRIGHT_PORT", text)
    with pytest.raises(Unreadable, match="DOSEWRIGHT_PORT"):
        main_serve_without_serving()


def main_serve_without_serving() -> None:
    from dosewright.config import serve  # noqa: PLC0415

    serve._whole("DOSEWRIGHT_PORT")


def test_every_setting_has_a_default_and_a_meaning_and_an_empty_value_is_the_default() -> None:
    assert len({setting.name for setting in CONFIG}) == len(CONFIG)
    assert all(setting.meaning for setting in CONFIG)
    assert read_setting("DOSEWRIGHT_PORT", {"DOSEWRIGHT_PORT": ""}) == "8000"
    with pytest.raises(KeyError):
        read_setting("DOSEWRIGHT_UNKNOWN", {})


def test_the_key_is_made_once_and_kept_for_its_owner_only(tmp_path: Path) -> None:
    made = load_secret("", tmp_path / "var")
    assert load_secret("", tmp_path / "var") == made
    assert len(made) >= 50
    assert (tmp_path / "var" / "secret.key").stat().st_mode & 0o777 == 0o600
    assert [entry.name for entry in (tmp_path / "var").iterdir()] == ["secret.key"]
    assert load_secret("given", tmp_path / "var") == "given"


def test_sqlite_keeps_the_last_commit_through_a_power_cut() -> None:
    if connection.vendor != "sqlite":
        assert connection.vendor == "postgresql"
        return
    with connection.cursor() as cursor:
        answers = [cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in ("journal_mode", "synchronous", "foreign_keys")]
    assert answers == ["wal", 2, 1]
    assert connection.settings_dict["OPTIONS"]["transaction_mode"] == "IMMEDIATE"


def test_a_new_store_guards_its_ledger_from_the_first_start(tmp_path: Path) -> None:
    environment = {**os.environ, "DOSEWRIGHT_HOME": str(tmp_path / "new"), "DATABASE_URL": "", "PYTHONPATH": "src"}
    code = "from dosewright.config.running import set_up_store; set_up_store()"
    subprocess.run([sys.executable, "-c", code], env=environment, check=True, timeout=60)
    with closing(sqlite3.connect(tmp_path / "new" / "dosewright.sqlite3")) as store:
        triggers = {row[0] for row in store.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")}
    assert triggers == {"ledger_no_update", "ledger_no_delete"}
    assert (tmp_path / "new").stat().st_mode & 0o777 == 0o700
