"""Property tests with new seeds until the minutes are over: `python tools/soak.py 30`. Stops at the first failure and prints its seed."""

import secrets
import subprocess
import sys
from datetime import timedelta
from time import monotonic


def main(minutes: int) -> int:
    """Exit code 0 when every round passed; pytest's own exit code otherwise."""
    end = monotonic() + timedelta(minutes=minutes).total_seconds()
    rounds = 0
    while monotonic() < end:
        seed = secrets.randbelow(2**32)
        command = [sys.executable, "-m", "pytest", "tests/core", "-q", "--hypothesis-profile=soak", f"--hypothesis-seed={seed}"]
        done = subprocess.run(command, check=False)
        if done.returncode:
            sys.stderr.write(f"Failed in round {rounds + 1}; again with: --hypothesis-profile=soak --hypothesis-seed={seed}\n")
            return done.returncode
        rounds += 1
    sys.stdout.write(f"{rounds} rounds, each with a seed of its own, all passed.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1])))
