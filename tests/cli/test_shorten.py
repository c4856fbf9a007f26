"""`dosewright plan --shorten`: as many days as the cards keep, said so, and a plan that its own recount agrees with."""

import json
from pathlib import Path

import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main

ORDERS = """person,name,order,medicine,directions,start
p1,Edith Marsh,o1,biso5,Take 1 tablet in the morning,2026-03-02
"""
PLAN = ("plan", "orders.csv", "--medicines", "medicines.csv", "--from", "2026-03-20", "--prepared", "2026-03-02", "--days", "56")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of its own with the two files."""
    monkeypatch.chdir(tmp_path)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")
    Path("orders.csv").write_text(ORDERS, "utf-8")


def test_without_it_nothing_is_packed() -> None:
    assert main([*PLAN, "--out", "refused"]) == 1
    assert json.loads(Path("refused/plan.json").read_text("utf-8"))["people"][0]["cards"] == []


def test_as_many_days_as_eight_weeks_from_packing_leave_are_planned(capsys: pytest.CaptureFixture[str]) -> None:
    """UK, eight weeks: packed on 2 March, the last day is 27 April; the cycle from 20 March has 39 days."""
    main([*PLAN, "--out", "made", "--shorten"])
    made = json.loads(Path("made/plan.json").read_text("utf-8"))
    assert made["days"] == 39
    assert max(cavity["date"] for card in made["people"][0]["cards"] for cavity in card["cavities"]) == "2026-04-27"
    assert [finding["code"] for finding in made["findings"] if finding["code"].startswith("cycle.")] == ["cycle.shortened"]
    capsys.readouterr()
    assert main(["verify", "made/plan.json", "orders.csv", "--medicines", "medicines.csv", "--prepared", "2026-03-02"]) == 0
