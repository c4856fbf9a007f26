"""Find Chromium for the browser journeys, or install it with the system's package client.

Comes in: nothing, or CHROMIUM in the environment (a path). Goes out: the path on standard output and exit 0; or exit 1 and one sentence on
standard error that says what is missing and how to get it. `find()` looks only; `find_or_install()` may install.
"""

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

__all__ = ["MISSING", "find", "find_or_install", "main"]

_NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
_INSTALL: tuple[tuple[str, tuple[tuple[str, ...], ...]], ...] = (
    ("apt-get", (("apt-get", "update", "-qq"), ("apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium"))),
    ("dnf", (("dnf", "install", "-y", "-q", "chromium"),)),
    ("apk", (("apk", "add", "--quiet", "chromium"),)),
)
MISSING = (
    "Chromium is missing and could not be installed: install it as an administrator (Debian: apt-get install chromium) "
    "or set CHROMIUM to the path of a Chromium or Chrome program, then run this again."
)


def find() -> str | None:
    """The path of a Chromium that is there, the one named in CHROMIUM first."""
    named = os.environ.get("CHROMIUM", "")
    if named and Path(named).is_file():
        return named
    return next((path for name in _NAMES if (path := shutil.which(name))), None)


def find_or_install() -> str | None:
    """The path of a Chromium, installed now if it must be and can be."""
    if found := find():
        return found
    for client, commands in _INSTALL:
        if shutil.which(client) and all(_succeeds(command) for command in commands):
            return find()
    return None


def _succeeds(command: Sequence[str]) -> bool:
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    return subprocess.run(command, env=quiet, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False).returncode == 0


def main() -> int:
    """0 with the path printed, or 1 with the sentence."""
    if path := find_or_install():
        print(path)
        return 0
    print(MISSING, file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
