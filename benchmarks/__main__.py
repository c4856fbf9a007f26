"""Run every benchmark, each in a process of its own: `python -m benchmarks [--write] [NAME…]`.

`--write` also puts what they printed into docs/benchmarks.md, with the command and the machine in general words. Exit code 1 if one failed.
"""

import argparse
import os
import platform
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).resolve().parent
PAGE = HERE.parent / "docs" / "benchmarks.md"
HEAD = """# Benchmarks

Made by `.venv/bin/python -m benchmarks --write` (all) or `… --write NAME` (one); `make bench` prints without writing this page.
Machine: {cores} cores, Python {python}, {system}. Each section says whether other work ran beside it when it began.
Ratios of one run are worth more than seconds: measure again before you quote.
"""
QUIET_LOAD = 0.5  # runnable processes a core; above it the figures are of a busy machine, and the page says so


def main(words: Sequence[str] | None = None) -> int:
    asked = _parser().parse_args(words)
    sections = {name: _section(name, _noise(), _run(name)) for name in asked.names or all_names()}
    if asked.write and all(sections.values()):
        PAGE.write_text(_page({**_kept(), **sections}), encoding="utf-8")
    return 0 if all(sections.values()) else 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m benchmarks",
        description="Run the benchmarks, each in a process of its own, and print what they measured.",
        epilog="example: python -m benchmarks --write paper; the benchmarks are: " + ", ".join(all_names()),
    )
    parser.add_argument("names", nargs="*", metavar="NAME", type=_benchmark, help="only these (all)")
    parser.add_argument("--write", action="store_true", help="put what they printed into docs/benchmarks.md, if none failed")
    return parser


def _benchmark(name: str) -> str:
    if name not in all_names():
        raise argparse.ArgumentTypeError(f"no benchmark {name!r}; there are {', '.join(all_names())}")
    return name


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
    sys.exit(main())
