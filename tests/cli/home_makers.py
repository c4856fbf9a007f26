"""A small home's orders as files, and the command on them: for what plans many people in parts."""

import argparse
from concurrent.futures import Executor
from pathlib import Path

import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.cli import plan as plan_command
from dosewright.cli import plan_homes

__all__ = ["HEAD", "MANY", "arguments", "folder", "made", "orders", "plan_through", "words_for"]

HEAD = "person,name,born,home,room,order,medicine,directions,start,stop,prescriber,rx_no"
WORDS = (
    "Take one tablet in the morning",
    "Take one tablet twice a day",
    "Take half a tablet at bedtime",
    "Take one tablet every other day",
)
MANY = 23


def orders(people: int = MANY, words: tuple[str, ...] = WORDS, start: str = "2026-03-02") -> str:
    """Three orders a person. Some have no start, so that there is something to find; the last one's directions cannot be read."""
    rows = [HEAD]
    for person in range(people):
        for place, code in enumerate(("biso5", "los50", "thyr")):
            said = words[(person + place) % len(words)] if (person, place) != (people - 1, 2) else "as the doctor said"
            begun = start if (person + place) % 5 else ""
            rows.append(f"p{person},Person {person},,,,o{person}-{place},{code},{said},{begun},,,")
    return "\n".join(rows) + "\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own with the small medicines file and orders; four people a part."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(plan_homes, "CHUNK", 4)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")
    Path("orders.csv").write_text(orders(), "utf-8")
    return tmp_path


def words_for(out: str, *more: str) -> list[str]:
    return ["orders.csv", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "14", "--out", out, "--no-paper", *more]


def arguments(out: str, *more: str) -> argparse.Namespace:
    parser = argparse.ArgumentParser()
    plan_command.add_arguments(parser)
    return parser.parse_args(words_for(out, *more))


def plan_through(executor: Executor, out: str, *more: str, workers: int = 2) -> int:
    return plan_command.plan_through(words_for(out, *more), executor, workers)


def made(out: str) -> dict[str, bytes]:
    return {entry.name: entry.read_bytes() for entry in Path(out).iterdir()}
