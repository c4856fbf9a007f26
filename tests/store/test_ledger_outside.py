"""R12 outside the program: the script of docs/ledger.md, taken from the page, finds whatever was done to one entry of a backup.

Altered in any field, removed, inserted, moved, cut off; also by a forger who numbers entries anew and makes the hash of what they touched
right; and a ledger that was rewritten with right hashes from some entry on, which only the head can show.
"""

import gzip
import json
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from types import CodeType
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase
from tests.bench_fixtures import guarded, on

from dosewright.config.backup import write_backup
from dosewright.config.ledger import format_head
from dosewright.core.custody.chain import Entry, entry_hash
from dosewright.store.ledger import append_entry, load_head

__all__ = ["guarded"]

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "ledger.md").read_text("utf-8")
(SOURCE,) = [part.split("```")[0] for part in PAGE.split("```python\n")[1:]]
SCRIPT: CodeType = compile(SOURCE, "check.py", "exec")
Row = dict[str, Any]
FIELDS = ["who_id", "who_name", "who_role", "station", "event", "subject_kind", "subject_id", "body", "previous", "hash", "at", "sequence"]


def write(entries: int) -> None:
    for number in range(1, entries + 1):
        append_entry(on(minutes=number), "noted", ("card", f"C{number % 3}"), {"number": number, "why": "dose «½» moved"})


@contextmanager
def exported() -> Iterator[tuple[Path, Path]]:
    """A backup and a head, as the commands write them."""
    with tempfile.TemporaryDirectory() as folder:
        backup, head = Path(folder) / "backup.dosewright", Path(folder) / "head.json"
        write_backup(backup)
        head.write_text(format_head(load_head()), "utf-8")
        yield backup, head


def run(backup: Path, head: Path, capture: Callable[[str], None] = lambda _: None) -> str:
    """What the script says against it; "" where it holds."""
    before, sys.argv = sys.argv, ["check.py", str(backup), str(head)]
    try:
        exec(SCRIPT, {"print": capture})  # noqa: S102  the page's own script
    except SystemExit as end:
        return str(end.code)
    finally:
        sys.argv = before
    return ""


def tampered(backup: Path, change: Callable[[list[Row]], list[Row]]) -> None:
    """The ledger's entries in the backup, changed; everything else as it was."""
    lines = [json.loads(line) for line in gzip.decompress(backup.read_bytes()).splitlines()]
    rows = [line["row"] for line in lines if line.get("model") == "LedgerEntry"]
    first = next(place for place, line in enumerate(lines) if line.get("model") == "LedgerEntry")
    others = [line for line in lines if line.get("model") != "LedgerEntry"]
    kept = others[:first] + [{"model": "LedgerEntry", "row": row} for row in change(rows)] + others[first:]
    with gzip.open(backup, "wt", encoding="utf-8") as out:
        out.writelines(json.dumps(line, ensure_ascii=False) + "\n" for line in kept)


def right(row: Row, **changed: Any) -> Row:
    """The entry with a hash that fits its words: what a careful forger writes."""
    said = {**row, **changed}
    fields = {name: said[name] for name in Entry.__slots__ if name not in {"at", "hash"}}
    entry = Entry(at=datetime.fromisoformat(said["at"]["moment"]), hash="", **fields)
    return {**said, "hash": entry_hash(replace(entry, hash=""))}


def other(value: Any) -> Any:
    """Something else of the same kind."""
    if isinstance(value, dict):
        return {"moment": datetime(2030, 1, 1, tzinfo=UTC).isoformat()}
    return value + 1 if isinstance(value, int) else ("0" if value[:1] != "0" else "1") + value[1:]


def alter(rows: list[Row], place: int, field: str) -> list[Row]:
    rows[place] = {**rows[place], field: other(rows[place][field])}
    return rows


def alter_and_make_right(rows: list[Row], place: int, field: str) -> list[Row]:
    rows[place] = right(rows[place], **{field: other(rows[place][field])})
    return rows


def remove(rows: list[Row], place: int, field: str) -> list[Row]:
    return rows[:place] + rows[place + 1 :]


def insert(rows: list[Row], place: int, field: str) -> list[Row]:
    return [*rows[:place], right(rows[place], event="forged"), *rows[place:]]


def insert_and_number(rows: list[Row], place: int, field: str) -> list[Row]:
    return [{**row, "sequence": number} for number, row in enumerate(insert(rows, place, field), start=1)]


def move(rows: list[Row], place: int, field: str) -> list[Row]:
    taken = rows.pop(place)
    rows.insert(0 if place else 1, taken)
    return rows


def cut_off(rows: list[Row], place: int, field: str) -> list[Row]:
    return rows[:place]


def rewrite(rows: list[Row], place: int, field: str) -> list[Row]:
    """From there on every entry anew, with right numbers and right hashes."""
    made = rows[:place]
    for row in rows[place:]:
        made.append(right(row, who_name="somebody else", previous=made[-1]["hash"] if made else "0" * 64))
    return made


WAYS = [alter, alter_and_make_right, remove, insert, insert_and_number, move, cut_off, rewrite]


class TestOutside(TestCase):
    """Whatever is done to one entry, wherever it stands, the script finds it."""

    @given(
        size=st.integers(2, 7),
        place=st.integers(0, 6),
        way=st.sampled_from(WAYS),
        field=st.sampled_from([f for f in FIELDS if f != "hash"]),
    )
    def test_whatever_is_done_to_an_entry_is_found(self, size: int, place: int, way: Callable[..., list[Row]], field: str) -> None:
        write(size)
        with exported() as (backup, head):
            assert run(backup, head) == ""
            tampered(backup, lambda rows: way(rows, place % size, field))
            assert run(backup, head)


def test_a_changed_hash_is_found(guarded: None) -> None:
    write(4)
    for place in range(4):
        with exported() as (backup, head):
            tampered(backup, partial(alter, place=place, field="hash"))
            assert run(backup, head) == f"broken at entry {place + 1}"


def test_a_ledger_that_went_on_still_holds_against_an_old_head(guarded: None) -> None:
    write(3)
    with exported() as (_, old):
        write(2)
        with exported() as (backup, _):
            said: list[str] = []
            assert run(backup, old, said.append) == ""
            assert said == ["5 entries hold, and the head of entry 3 is among them"]


def test_the_script_is_twenty_lines_of_python_alone() -> None:
    assert len([line for line in SOURCE.splitlines() if line.strip()]) <= 20
    assert "dosewright" not in SOURCE


def test_a_head_of_nothing_is_in_every_ledger(guarded: None, tmp_path: Path) -> None:
    with exported() as (_, nothing):
        write(2)
        with exported() as (backup, _):
            assert run(backup, nothing) == ""


@pytest.mark.parametrize("way", [remove, cut_off, rewrite])
def test_a_tail_is_missed_only_by_the_head(guarded: None, way: Callable[..., list[Row]]) -> None:
    write(5)
    with exported() as (backup, head):
        tampered(backup, lambda rows: way(rows, 4, "body"))
        assert run(backup, head) == "the head is not in it: it was cut off or rewritten"
