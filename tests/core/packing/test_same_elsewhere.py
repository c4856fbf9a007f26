"""A plan has the same fingerprint in another process, where texts hash otherwise: planned here, verified there (R6, R18)."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
PLAN = """
from dosewright.core.packing.plan import plan_cycle
from tests.core.packing.makers import dosage, medicine, order, request
one, other = medicine("Alpha"), medicine("Beta", flags=frozenset({"time-critical", "moisture", "light"}))
orders = [order("o1", one, dosage(1, "MORN", "EVE")), order("o2", other, dosage("1/2", "HS"))]
print(plan_cycle(request(orders, [one, other])).basis)
"""


def basis(hash_seed: str) -> str:
    environment = {"PYTHONHASHSEED": hash_seed, "PYTHONPATH": "src:."}
    return subprocess.run([sys.executable, "-c", PLAN], cwd=ROOT, env=environment, capture_output=True, check=True, text=True).stdout


def test_the_fingerprint_is_the_same_wherever_texts_hash_otherwise() -> None:
    found = {basis(hash_seed) for hash_seed in ("0", "1", "2")}
    assert len(found) == 1
    assert len(found.pop().strip()) == 64
