"""`dosewright plan --explain`: the reasons stand under the counts, on standard output."""

from pathlib import Path

import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main

ORDERS = """person,name,order,medicine,directions,start
p1,Edith Marsh,o1,biso5,Take 6 tablets in the morning,2026-03-02
p1,Edith Marsh,o2,los50,Take 4 tablets in the morning,2026-03-02
"""


def test_reasons_and_savings_are_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(tmp_path)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")
    Path("orders.csv").write_text(ORDERS, "utf-8")
    plan = ("plan", "orders.csv", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "28", "--out", "out")
    main(plan)
    counts = capsys.readouterr().out
    main((*plan, "--explain"))
    first, *reasons = capsys.readouterr().out.splitlines(keepends=True)
    assert first == counts
    assert reasons == [
        "Edith Marsh, morning 08:00: 2 columns: one day has 10 pieces, and one cavity takes 8.\n",
        "Edith Marsh: cards: 2, for 4 runs of 7 days, 2 columns in the fullest, 4 on a card.\n",
        "Edith Marsh: 1 more after the first, for the next run of days needs 2 columns and the card before it has 0 left.\n",
        "Edith Marsh, morning 08:00: without Bisoprolol 5 mg tablet there, this many cards would do: 1.\n",
        "Edith Marsh, morning 08:00: without Losartan 50 mg tablet there, this many cards would do: 1.\n",
        'Edith Marsh: on the format "Seven days by four, deep", this many cards would do: 1.\n',
    ]
