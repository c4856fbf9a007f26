"""Known faults of the pinned requirements, in every build: `python -m tools.known_faults [--must-answer]`.

Asks the JSON interface of the index that pip is set to, `/pypi/NAME/VERSION/json`, its field `vulnerabilities` (source: docs.pypi.org,
"JSON API"): about one requirement first, and about the others only where that was answered. Most mirrors serve files alone and answer
nothing; then one line says so, and says nothing of the requirements. `make audit` asks where the internet is.
Exit code 0: no known fault, or no answer; 1: a known fault, each named; 2: no answer, with --must-answer.
"""

import argparse
import http.client
import json
import os
import re
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Answer", "Pin", "ask", "index_of_pip", "main", "pins"]

ROOT = Path(__file__).resolve().parent.parent
LISTS = ("runtime", "test")
PATIENCE = 10  # seconds for one answer
_AT_ONCE = 8
_PINNED = re.compile(r"^(?P<name>[A-Za-z0-9._-]+)(?:\[[a-z,]+\])?==(?P<version>[^\s;\\]+)", re.MULTILINE)


@dataclass(frozen=True, slots=True, order=True)
class Pin:
    """A requirement and its one version."""

    name: str
    version: str


@dataclass(frozen=True, slots=True)
class Answer:
    """`faults`: each known one in a line, none where nothing is known; None where the index did not answer about this very version, and
    `why`."""

    faults: tuple[str, ...] | None
    why: str = ""


def pins(folder: Path = ROOT / "requirements") -> tuple[Pin, ...]:
    """Every pinned requirement once, of what the product and what the tests run on."""
    texts = (folder / f"{name}.txt" for name in LISTS)
    return tuple(sorted({Pin(found["name"], found["version"]) for text in texts for found in _PINNED.finditer(text.read_text("utf-8"))}))


def index_of_pip() -> str:
    """The index that pip asks, without the part that lists files. Never printed: it may be somebody's own."""
    said = os.environ.get("PIP_INDEX_URL", "")
    if not said:
        asked = subprocess.run(
            [sys.executable, "-m", "pip", "config", "get", "global.index-url"], capture_output=True, text=True, check=False
        )
        said = asked.stdout.strip() or "https://pypi.org/simple"
    return re.sub(r"/simple/?$", "", said.rstrip("/"))


def ask(pin: Pin, index: str) -> Answer:
    """What the index knows about one version. An answer about another version is none."""
    try:
        with urllib.request.urlopen(f"{index}/pypi/{pin.name}/{pin.version}/json", timeout=PATIENCE) as answer:  # noqa: S310  pip's own index
            said = json.load(answer)
        about, known = said["info"]["version"], said["vulnerabilities"]
        faults = tuple(_in_words(pin, fault) for fault in known if not fault.get("withdrawn"))
    except urllib.error.HTTPError as error:
        return Answer(None, f"HTTP {error.code}")
    except (OSError, http.client.HTTPException):
        return Answer(None, "no connection")
    except (ValueError, KeyError, TypeError, AttributeError):
        return Answer(None, "its answer does not speak of known faults")
    return Answer(faults) if about == pin.version else Answer(None, f"it speaks of {about} instead")


def _in_words(pin: Pin, fault: dict[str, object]) -> str:
    fixed = fault.get("fixed_in")
    mended = f"mended in {', '.join(map(str, fixed))}" if isinstance(fixed, list) and fixed else "not mended yet"
    return f"{pin.name} {pin.version}: {fault.get('id', 'a fault without a name')}, {mended}"


def main(words: Sequence[str] | None = None) -> int:
    """Ask, and say what was found in one line or a line for each fault."""
    parser = argparse.ArgumentParser(prog="python -m tools.known_faults", description="Known faults of the pinned requirements.")
    parser.add_argument("--must-answer", action="store_true", help="exit code 2 where the index does not answer about all of them")
    must = parser.parse_args(words).must_answer
    wanted, index = pins(), index_of_pip()
    first = ask(wanted[0], index)
    if first.faults is None:
        print(f"known faults of requirements: NOT KNOWN. The index does not say ({first.why}); run make audit where the internet is.")
        return 2 if must else 0
    with ThreadPoolExecutor(_AT_ONCE) as at_once:
        answers = [first, *at_once.map(lambda pin: ask(pin, index), wanted[1:])]
    faults = [fault for answer in answers for fault in answer.faults or ()]
    silent = [pin.name for pin, answer in zip(wanted, answers, strict=True) if answer.faults is None]
    for fault in faults:
        print(f"known fault: {fault}", file=sys.stderr)
    known = f"known faults of requirements: {len(faults)} in {len(wanted) - len(silent)} of {len(wanted)} pinned versions"
    print(f"{known}; NOT KNOWN of {', '.join(silent)}." if silent else f"{known}.")
    return 1 if faults else 2 if silent and must else 0


if __name__ == "__main__":
    sys.exit(main())
