"""Find Chromium for the browser journeys, or install it with the system's package client.

Comes in: nothing, or CHROMIUM in the environment (a path). Goes out: the path on standard output and exit 0; or exit 1 and one sentence on
standard error that says what is missing and how to get it. `find()` looks only; `find_or_install()` may install.
"""

import os
import shutil
import sys
from pathlib import Path

from tools.system_package import install

__all__ = ["MISSING", "find", "find_or_install", "main"]

_NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
_PACKAGE = {"apt-get": "chromium", "dnf": "chromium", "apk": "chromium"}
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
    return find() if install(_PACKAGE) else None


def main() -> int:
    """0 with the path printed, or 1 with the sentence."""
    if path := find_or_install():
        print(path)
        return 0
    print(MISSING, file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
