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

Made by `.venv/bin/python -m benchmarks --write` (all) or `… --write NAME` (one); `make bench` prints without writing this page.
Machine: {cores} cores, Python {python}, {system}. Each section says whether other work ran beside it when it began.
Ratios of one run are worth more than seconds: measure again before you quote.
"""
QUIET_LOAD = 0.5  # runnable processes a core; above it the figures are of a busy machine, and the page says so


def main(words: list[str]) -> int:
    names = [word for word in words if not word.startswith("-")] or all_names()
    sections = {name: _section(name, _noise(), _run(name)) for name in names}
    if "--write" in words and all(sections.values()):
        PAGE.write_text(_page({**_kept(), **sections}), encoding="utf-8")
    return 0 if all(sections.values()) else 1


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
    if load < QUIET_LOAD:
        return "Quiet machine."
    return f"Busy machine: {load:.1f} other processes a core wanted to run when it began, so seconds are pessimistic."


def _page(sections: dict[str, str]) -> str:
    head = HEAD.format(cores=os.cpu_count(), python=platform.python_version(), system=platform.system())
    return head + "".join(sections[name] for name in all_names() if name in sections)


def _section(name: str, noise: str, text: str) -> str:
    """A benchmark's part of the page, "" where it failed."""
    title = name.replace("_", " ").capitalize()
    return f"\n## {title}\n\n`.venv/bin/python -m benchmarks {name}`. {noise}\n\n```\n{text.rstrip()}\n```\n" if text else ""


def _kept() -> dict[str, str]:
    """The sections that stand on the page."""
    parts = PAGE.read_text("utf-8").split("\n## ")[1:] if PAGE.is_file() else []
    return {part.split("\n")[0].lower().replace(" ", "_"): f"\n## {part}" for part in parts}


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
