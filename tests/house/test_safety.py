"""The table of safety rules is true: each test in it is green as things are, and red when the rule's code is switched off."""

import os
import re
import subprocess
import sys

import pytest
from tests.house.source_tree import ROOT

ROW = re.compile(r"^\| (R\d+) \| [^|]+ \| `([\w.]+:\w+)` \| `(tests/[\w/.]+::\w+)` \|$", re.MULTILINE)
TABLE = (ROOT / "docs" / "safety.md").read_text("utf-8").split("\n## ")[0]
ROWS = ROW.findall(TABLE)
WITHIN = 300  # seconds for one test, on a slow machine


def run(test: str, **environment: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "tools.switch_off", "-p", "no:cacheprovider", test]
    kept = {**os.environ, **environment}
    return subprocess.run(command, cwd=ROOT, env=kept, capture_output=True, text=True, check=False, timeout=WITHIN)


def test_every_rule_up_to_17_is_in_the_table() -> None:
    assert {rule for rule, _, _ in ROWS} == {f"R{number}" for number in range(1, 18)}
    assert len(ROWS) == TABLE.count("\n| R")


@pytest.mark.parametrize(("rule", "code", "test"), ROWS, ids=[f"{rule} {code}" for rule, code, _ in ROWS])
def test_the_test_of_a_rule_is_red_without_its_code(rule: str, code: str, test: str) -> None:
    as_it_is, without = run(test), run(test, SWITCH_OFF=code)
    assert as_it_is.returncode == 0, f"{rule}: red as things are\n{as_it_is.stdout[-2000:]}"
    assert without.returncode == 1, (
        f"{rule}: {code} can be switched off and the test does not mind\n{without.stdout[-2000:]}{without.stderr[-500:]}"
    )
