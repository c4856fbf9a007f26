"""`dosewright plan` does not ask of the plan what it asked of the files."""

from pathlib import Path

import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main

ORDERS = """person,name,order,medicine,directions,start
p1,Edith Marsh,o1,biso5,Take 2 tablets in the morning,2026-03-02
p1,Edith Marsh,o2,biso5,Take 4 tablets in the morning,2026-03-02
"""


def test_one_medicine_ordered_twice_is_asked_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")
    Path("orders.csv").write_text(ORDERS, "utf-8")
    plan = ("plan", "orders.csv", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "28", "--out", "out")
    assert main(plan) == 1
    assert capsys.readouterr().err.count("o2") == 1
    assert "duplicate" not in Path("out", "findings.json").read_text("utf-8")
