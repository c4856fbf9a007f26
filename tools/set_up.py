"""Make `.venv` ready for one purpose: `python3 tools/set_up.py runtime|test`.

Creates the environment, installs the requirements by their hashes and this package as it lies here. A second run compares one
fingerprint and does nothing. What is missing on the machine is said in one sentence. Runs on any Python 3, so that it can say so.
"""

import hashlib
import subprocess
import sys
from pathlib import Path
from typing import NoReturn

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
OLDEST = (3, 11)
PURPOSES = {"runtime": ("runtime", "test"), "test": ("test",)}  # purpose: whose requirements serve it


def main(purpose: str) -> None:
    if any(_stamp(served).is_file() and _stamp(served).read_text() == _fingerprint(served) for served in PURPOSES[purpose]):
        return
    _require_python()
    _make_venv()
    requirements = str(ROOT / "requirements" / (purpose + ".txt"))
    print("Setting up .venv for " + purpose + " (a few minutes the first time)", flush=True)
    _install("--require-hashes", "-r", requirements)
    _install("--no-build-isolation", "--no-deps", "-e", str(ROOT))
    _stamp(purpose).write_text(_fingerprint(purpose))


def _fingerprint(purpose: str) -> str:
    """Changes with the requirements, the project file or the interpreter."""
    files = (ROOT / "requirements" / (purpose + ".txt"), ROOT / "pyproject.toml", VENV / "pyvenv.cfg")
    return hashlib.sha256(b"\0".join(f.read_bytes() for f in files if f.is_file())).hexdigest() + "\n"


def _stamp(purpose: str) -> Path:
    return VENV / (".ready-for-" + purpose)


def _require_python() -> None:
    if sys.version_info < OLDEST:
        found = ".".join(map(str, sys.version_info[:3]))
        _stop("Python 3.11 or newer is needed and python3 is " + found + "; install it, or name one: make PYTHON=python3.12 demo")


def _make_venv() -> None:
    if _works(str(PYTHON), "-m", "pip", "--version"):
        return
    if not _works(sys.executable, "-c", "import ensurepip, venv"):
        _stop("Python's venv module is missing; install it (Debian, Ubuntu: apt-get install python3-venv) and run this again.")
    if subprocess.run([sys.executable, "-m", "venv", "--clear", str(VENV)], check=False).returncode:
        _stop("The environment " + str(VENV) + " could not be made; is the folder writable?")


def _install(*words: str) -> None:
    command = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if subprocess.run([*command, *words], check=False).returncode:
        _stop("pip could not install what is needed (its own message stands above); a package index or a wheel folder must be in reach.")


def _works(*command: str) -> bool:
    try:
        return subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False).returncode == 0
    except OSError:
        return False


def _stop(sentence: str) -> NoReturn:
    sys.stderr.write(sentence + "\n")
    raise SystemExit(2)


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1] not in PURPOSES:
        _stop("usage: python3 tools/set_up.py " + "|".join(PURPOSES))
    main(sys.argv[1])
