"""A bench whose server is killed, whose disk is full, whose database goes away while cards are filled: nothing is lost, nothing done twice.

The tool that does it 200 times, `tools/kill_server.py`, is run here a few times; what was tried in full is in docs/faults.md.
"""

import re
import subprocess
import sys

import pytest
from tests.house.source_tree import ROOT
from tools.kill_server import _apart, restarted
from tools.with_postgres import postgres_server

SAID = re.compile(r"(\d+) placements answered, each in the ledger once; (\d+) requests cut off, (\d+) of them done")


@pytest.mark.parametrize("what", ["killed", "disk_full"])
def test_what_was_answered_is_there_once_and_what_was_not_is_done_when_sent_again(what: str) -> None:
    found = SAID.match(_apart("", what, 4, seed=1))
    assert found
    answered, cut_off = int(found[1]), int(found[2])
    assert answered >= cut_off > 0


def test_a_database_that_is_stopped_and_started_again_loses_nothing() -> None:
    with postgres_server() as server:
        found = SAID.match(restarted(server, 2))
    assert found
    assert int(found[1]) > 0


def test_the_tool_says_what_it_does() -> None:
    said = subprocess.run([sys.executable, "-m", "tools.kill_server", "--help"], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "--times" in said.stdout
