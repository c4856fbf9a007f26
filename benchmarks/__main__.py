"""Run every benchmark, each in a process of its own: `python -m benchmarks [--write] [NAME…]`.

`--write` also puts what they printed into docs/benchmarks.md, with the command and the machine in general words. Exit code 1 if one failed.
"""

import os
import platform
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
PAGE = HERE.parent / "docs" / "benchmarks.md"
HEAD = """# Benchmarks

Figures of one run, made by `.venv/bin/python -m benchmarks --write`; `make bench` prints them without writing this page.
Machine: {cores} cores, Python {python}, {system}; {noise}.
Ratios of one run are worth more than seconds: measure again before you quote.
"""
QUIET_LOAD = 0.5  # runnable processes a core; above it the figures are of a busy machine, and the page says so


def main(words: list[str]) -> int:
    names = [word for word in words if not word.startswith("-")] or all_names()
    noise = _noise()
    printed = {name: _run(name) for name in names}
    if "--write" in words and all(printed.values()):
        PAGE.write_text(_page(printed, noise), encoding="utf-8")
    return 0 if all(printed.values()) else 1


def all_names() -> list[str]:
    """Every benchmark here, in order of name; `ratio` is what they measure with."""
    return sorted(path.stem for path in HERE.glob("*.py") if not path.stem.startswith("_") and path.stem != "ratio")


def _run(name: str) -> str:
    """What it printed, passed on as it comes; "" where it failed."""
    print(f"== {name}", flush=True)
    lines: list[str] = []
    with subprocess.Popen([sys.executable, "-m", f"benchmarks.{name}"], cwd=HERE.parent, stdout=subprocess.PIPE, text=True) as running:
        for line in running.stdout or ():
            print(line, end="", flush=True)
            lines.append(line)
    return "".join(lines) if running.returncode == 0 else ""


def _noise() -> str:
    load = os.getloadavg()[0] / (os.cpu_count() or 1)
    state = "quiet before it began" if load < QUIET_LOAD else "busy with other work when it began, so that single figures are pessimistic"
    return f"the machine was {state}"


def _page(printed: dict[str, str], noise: str) -> str:
    head = HEAD.format(cores=os.cpu_count(), python=platform.python_version(), system=platform.system(), noise=noise)
    return head + "".join(_section(name, text) for name, text in printed.items())


def _section(name: str, text: str) -> str:
    return f"\n## {name.replace('_', ' ').capitalize()}\n\n`.venv/bin/python -m benchmarks {name}`\n\n```\n{text.rstrip()}\n```\n"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
