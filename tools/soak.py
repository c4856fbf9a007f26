"""Property tests with new seeds until the minutes are over: `python tools/soak.py 30`. Stops at the first failure and prints its seed.

Before them once the lives of cards whose orders change, for a million steps with a seed of their own; `python tools/soak.py 0` does those
alone, `… 30 0` leaves them out, any other second figure is the number of steps.
"""

import os
import secrets
import subprocess
import sys
from collections.abc import Iterable
from datetime import timedelta
from time import monotonic

STEPS = 1_000_000
LIVES = "tests/core/custody/test_change_machine.py"


def main(minutes: int, steps: int = STEPS) -> int:
    """Exit code 0 when everything passed; pytest's own exit code otherwise."""
    if steps and (code := live(steps)):
        return code
    end = monotonic() + timedelta(minutes=minutes).total_seconds()
    rounds = 0
    while monotonic() < end:
        seed = secrets.randbelow(2**32)
        options = ["-q", "--hypothesis-profile=soak", f"--hypothesis-seed={seed}"]
        if code := _run(["tests/core", *options], DOSEWRIGHT_CHANGE_SEED=str(seed)):
            sys.stderr.write(f"Failed in round {rounds + 1}; again with: --hypothesis-profile=soak --hypothesis-seed={seed}\n")
            return code
        rounds += 1
    sys.stdout.write(f"{rounds} rounds, each with a seed of its own, all passed.\n")
    return 0


def live(steps: int) -> int:
    """So many steps of cards through changes; says how long they took. pytest's exit code."""
    seed, begun = str(secrets.randbelow(2**32)), monotonic()
    code = _run([LIVES, "-q", "-s"], DOSEWRIGHT_CHANGE_STEPS=str(steps), DOSEWRIGHT_CHANGE_SEED=seed)
    if code:
        sys.stderr.write(f"Failed; again with: DOSEWRIGHT_CHANGE_SEED={seed} DOSEWRIGHT_CHANGE_STEPS={steps} pytest {LIVES}\n")
    else:
        sys.stdout.write(f"{steps:,} steps through changes passed, in {monotonic() - begun:,.0f} seconds; seed {seed}.\n")
    return code


def _run(arguments: Iterable[str], **environment: str) -> int:
    command = [sys.executable, "-m", "pytest", *arguments]
    return subprocess.run(command, check=False, env={**os.environ, **environment}).returncode


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
