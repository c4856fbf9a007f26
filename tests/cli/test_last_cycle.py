"""`dosewright plan --last-cycle`: a medicine lies where it lay in the last cycle."""

import json
from pathlib import Path
from typing import Any

import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main

ORDERS = """person,name,order,medicine,directions,start
p1,Edith Marsh,o1,biso5,Take 8 tablets in the morning,2026-03-02
p1,Edith Marsh,o2,los50,Take 8 tablets in the morning,2026-03-02
"""
PLAN = ("plan", "orders.csv", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "7", "--out")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of its own with the two files."""
    monkeypatch.chdir(tmp_path)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")
    Path("orders.csv").write_text(ORDERS, "utf-8")


def cavities(folder: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = plan_of(folder)["people"][0]["cards"][0]["cavities"]
    return found


def plan_of(folder: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(Path(folder, "plan.json").read_text("utf-8"))
    return found


def columns(folder: str) -> dict[str, set[int]]:
    """The columns in which each medicine lies."""
    found: dict[str, set[int]] = {}
    for cavity in cavities(folder):
        for content in cavity["contents"]:
            found.setdefault(content["medicine"], set()).add(cavity["column"])
    return found


def exchanged(folder: str) -> str:
    """The plan with its first two columns exchanged, as a file."""
    plan = plan_of(folder)
    for cavity in plan["people"][0]["cards"][0]["cavities"]:
        cavity["column"] = 3 - cavity["column"]
    Path("last.json").write_text(json.dumps(plan), "utf-8")
    return "last.json"


def test_medicines_lie_where_they_lay_and_the_recount_agrees(capsys: pytest.CaptureFixture[str]) -> None:
    main((*PLAN, "first"))
    assert columns("first") == {"biso5": {1}, "los50": {2}}
    main((*PLAN, "again", "--last-cycle", exchanged("first")))
    assert columns("again") == {"biso5": {2}, "los50": {1}}
    capsys.readouterr()
    main(("verify", "again/plan.json", *PLAN[1:4], "--last-cycle", "last.json"))
    assert capsys.readouterr().out.startswith("right: ")


@pytest.mark.parametrize("text", ["", "{}", "no plan"])
def test_what_is_no_plan_stops_the_command_before_anything_is_written(text: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path("last.json").write_text(text, "utf-8")
    assert main((*PLAN, "out", "--last-cycle", "last.json")) == 2
    assert "last.json" in capsys.readouterr().err
    assert not Path("out").exists()
