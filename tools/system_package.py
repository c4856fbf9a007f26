"""Install a package of the operating system with whichever package client is there. Quiet; says only whether it worked."""

import os
import shutil
import subprocess
from collections.abc import Mapping, Sequence

__all__ = ["install"]

_BEFORE: Mapping[str, tuple[Sequence[str], ...]] = {"apt-get": (("apt-get", "update", "-qq"),)}
_INSTALL: Mapping[str, Sequence[str]] = {
    "apt-get": ("apt-get", "install", "-y", "-qq", "--no-install-recommends"),
    "dnf": ("dnf", "install", "-y", "-q"),
    "apk": ("apk", "add", "--quiet"),
}


def install(names: Mapping[str, str]) -> bool:
    """Install what each package client calls it: `{"apt-get": "chromium", "dnf": "chromium"}`. False where none of them could."""
    for client, name in names.items():
        if shutil.which(client) and all(_succeeds(command) for command in (*_BEFORE.get(client, ()), (*_INSTALL[client], name))):
            return True
    return False


def _succeeds(command: Sequence[str]) -> bool:
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    return subprocess.run(command, env=quiet, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False).returncode == 0
