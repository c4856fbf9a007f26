"""Find libdmtx, the decoder that judges printed codes in the tests, or install it with the system's package client.

Comes in: nothing. Goes out: exit 0; or exit 1 and one sentence on standard error that says what is missing and how to get it.
"""

import sys
from ctypes.util import find_library

from tools.system_package import install

__all__ = ["MISSING", "find_or_install", "main"]

_NAMES = {"apt-get": "libdmtx0b", "dnf": "libdmtx", "apk": "libdmtx"}
MISSING = "libdmtx is missing and could not be installed: install it as an administrator (Debian: libdmtx0b), then run this again."


def find_or_install() -> bool:
    """Whether the library is there, installed now if it must be and can be."""
    return bool(find_library("dmtx")) or (install(_NAMES) and bool(find_library("dmtx")))


def main() -> int:
    """0, or 1 with the sentence."""
    if find_or_install():
        return 0
    print(MISSING, file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
