"""The Makefile says what it does, and the build runs it."""

import re
import subprocess

from tests.house.source_tree import ROOT

TARGETS = "demo test lint types layers unit journeys postgres bench mutate lock known audit faults soak clean".split()  # noqa: SIM905  one line


def test_every_target_has_one_line_of_help() -> None:
    shown = subprocess.run(["make", "help"], cwd=ROOT, capture_output=True, check=True, text=True).stdout.splitlines()
    assert {line.split()[1] for line in shown} == {*TARGETS, "help"}
    assert all(re.fullmatch(r"make [a-z]+ +\S.{10,80}", line) for line in shown)


def test_the_build_runs_everything_and_pytest_comes_last() -> None:
    planned = subprocess.run(["make", "-n", "test"], cwd=ROOT, capture_output=True, check=True, text=True).stdout.splitlines()
    tools = [
        re.sub(r"^.*?(set_up|find_chromium|find_dmtx|ruff|mypy|lint-imports|known_faults|with_postgres|pytest)\b.*", r"\1", line)
        for line in planned
    ]
    assert tools == [
        "set_up",
        "find_chromium",
        "find_dmtx",
        "ruff",
        "ruff",
        "mypy",
        "lint-imports",
        "known_faults",
        "with_postgres",
        "pytest",
    ]
    assert "make --no-print-directory test" in (ROOT / ".ci" / "run").read_text("utf-8")
