"""A server that is killed at any moment loses nothing it had answered for, and leaves nothing half done."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

# Each line that the working process prints was answered for: it must be in the ledger afterwards.
WORK = """
from dosewright.config.running import set_up_store
set_up_store()
from fractions import Fraction
from django.db import connection
from tests import small_bench as bench
from tests.bench_fixtures import on
from dosewright.actions.waste_units import waste_units
from dosewright.core.units.ids import Lot
from dosewright.store.models import Pharmacy
if not Pharmacy.objects.exists():
    bench.opened()
    bench.must(bench.stocked(bench.BISOPROLOL, "BIG", amount=90000))
print("ready", flush=True)
while True:
    bench.must(waste_units(bench.BISOPROLOL, on(), Lot("BIG"), Fraction(1), "spilled"))
    print("done", flush=True)
"""
LOOK = """
from dosewright.config.running import set_up_django
set_up_django()
from dosewright.core.supply.account import check_accounts
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.stock import load_movements, load_stock_by_lot
assert check_ledger() == ()
assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()
print(sum(entry.event == "units wasted" for entry in load_entries()))
"""


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    """A store of its own, on SQLite: on PostgreSQL the server is another process, and lives on."""
    return {**os.environ, "DOSEWRIGHT_HOME": str(tmp_path / "store"), "DATABASE_URL": "", "PYTHONPATH": f"src{os.pathsep}."}


def test_what_was_answered_for_is_there_after_a_sudden_end(environment: dict[str, str]) -> None:
    answered = 0
    for seconds in (0.05, 0.13, 0.31):
        with subprocess.Popen([sys.executable, "-c", WORK], env=environment, stdout=subprocess.PIPE, text=True) as process:
            assert process.stdout is not None
            assert process.stdout.readline() == "ready\n"
            time.sleep(seconds)
            process.kill()
            answered += process.stdout.read().count("done\n")
        look = subprocess.run([sys.executable, "-c", LOOK], env=environment, capture_output=True, text=True, check=True, timeout=120)
        recorded = int(look.stdout)
        # One more may have been committed in the moment before it could be answered for.
        assert answered <= recorded <= answered + 1
        answered = recorded
    assert answered > 0
