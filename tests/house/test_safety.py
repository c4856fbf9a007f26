"""The table of safety rules is true: each test in it is red when the rule's code is switched off.

That each is green as things are, this whole run shows by itself; that it would be so in the copies where code is switched off, one of each
part shows.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from tests.house.source_tree import ROOT

ROW = re.compile(r"^\| (R\d+) \| [^|]+ \| `([\w.]+:\w+)` \| `(tests/[\w/.]+::\w+)` \|$", re.MULTILINE)
TABLE = (ROOT / "docs" / "safety.md").read_text("utf-8").split("\n## ")[0]
ROWS = ROW.findall(TABLE)
PARTS = 4  # so many processes: they may run side by side
WITHIN = 1200  # seconds for a part, on a slow machine


def test_every_rule_up_to_17_is_in_the_table() -> None:
    assert {rule for rule, _, _ in ROWS} == {f"R{number}" for number in range(1, 18)}
    assert len(ROWS) == TABLE.count("\n| R")


@pytest.mark.parametrize("part", range(PARTS))
def test_the_test_of_a_rule_is_red_without_its_code(part: int, tmp_path: Path) -> None:
    rows = [[code, test] for _, code, test in ROWS[part::PARTS]]
    rows = [["", rows[0][1]], *rows]
    asked = tmp_path / "rows.json"
    asked.write_text(json.dumps(rows), "utf-8")
    command = [sys.executable, "-m", "pytest", "-q", "-p", "tools.switch_off", "-p", "no:cacheprovider", "-p", "no:schemathesis"]
    tests = list(dict.fromkeys(test for _, test in rows))
    kept = {**os.environ, "SWITCH_OFF": str(asked)}
    done = subprocess.run([*command, *tests], cwd=ROOT, env=kept, capture_output=True, text=True, check=False, timeout=WITHIN)
    assert Path(f"{asked}.done").exists(), done.stdout[-2000:] + done.stderr[-500:]
    found = json.loads(Path(f"{asked}.done").read_text("utf-8"))
    assert found[0][2] == "green", "as things are"
    assert found[1:] == [[code, test, "red"] for code, test in rows[1:]], "each: code, its test, what became of it with the code off"
