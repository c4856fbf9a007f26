"""The rooms and their order hold: the contracts of pyproject.toml, checked by import-linter."""

import subprocess
import sys
from pathlib import Path

from tests.house.source_tree import ROOT


def test_every_contract_is_kept() -> None:
    linted = subprocess.run([Path(sys.executable).parent / "lint-imports"], cwd=ROOT, capture_output=True, check=False, text=True)
    assert linted.returncode == 0, linted.stdout
    assert "5 kept, 0 broken" in linted.stdout
