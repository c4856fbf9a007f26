"""Whole homes: people planned, recounted and written some at a time, as the command does it. Growth up to 100,000 people, and flat memory.

Each size runs in a process of its own, so that its memory is its own; people are invented while it runs, and that is not counted. What the
command adds is reading (`planning` says its share). `python -m benchmarks homes`, or `python -m benchmarks.homes 100000` for more people,
which prints a line every 10,000.
"""

import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from time import perf_counter, process_time
from typing import TextIO

from benchmarks.planning import published
from dosewright.cli.plan_chunk import ChunkDone, ChunkTask, plan_chunk, shared_of
from dosewright.cli.plan_homes import CHUNK
from dosewright.cli.through import InThisProcess, run_through
from dosewright.cli.waiting import Part
from dosewright.core.interop.plan_json import plan_text
from dosewright.core.packing.fingerprint import fingerprint_of_sets
from dosewright.core.packing.plan_values import Plan
from dosewright.core.units.ids import PersonId

SIZES = (10, 100, 1_000)


class Clock:
    """Seconds of the processor and of the wall, of everything that ran inside `counting`."""

    def __init__(self) -> None:
        self.processor = self.wall = 0.0

    @contextmanager
    def counting(self) -> Iterator[None]:
        """Count what runs inside."""
        processor, wall = process_time(), perf_counter()
        yield
        self.processor += process_time() - processor
        self.wall += perf_counter() - wall


def tasks(people: int) -> Iterator[tuple[int, ChunkTask]]:
    """Invented people, so many at a time."""
    shared = shared_of(published(0))
    for number, first in enumerate(range(0, people, CHUNK)):
        part = replace(published(min(CHUNK, people - first), first=first), medicines={})
        yield number, ChunkTask(shared, Part(part, frozenset(), frozenset()))


def plan_them(people: int, folder: Path, report: int = 0) -> Clock:
    """Plan, recount, write: everyone's lines beside each other first, then the plan file from them, as the command does."""
    clock, bases, done = Clock(), dict[PersonId, str](), 0
    with open(folder / "people", "w", encoding="utf-8") as lines:
        for number, task in tasks(people):
            with clock.counting():
                for _, found in run_through(InThisProcess(), plan_chunk, [(number, task)], 1):
                    done += _keep(found, bases, lines)
            if report and done // report > (done - len(task.part.request.people)) // report:
                print(_said(done, clock), flush=True)
    with clock.counting(), open(folder / "plan.json", "w", encoding="utf-8") as file, open(folder / "people", encoding="utf-8") as lines:
        request = published(0)
        head = Plan(fingerprint_of_sets(bases), request.first, request.days, request.profile.name, request.format.name, (), ())
        file.writelines(plan_text(head, (line.rstrip("\n") for line in lines), ()))
    return clock


def _keep(found: ChunkDone, bases: dict[PersonId, str], lines: TextIO) -> int:
    assert not found.faults
    assert not found.said
    bases.update(found.bases)
    lines.writelines(f"{line}\n" for line in found.people)
    return len(found.people)


def _said(people: int, clock: Clock) -> str:
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    each = clock.processor / people
    return f"{people:>7} people: {each * 1000:.2f} ms a person of one core, {1 / each:.0f} a second; peak memory {peak:.0f} MiB"


def main() -> None:
    """Each size in a process of its own."""
    for size in SIZES:
        subprocess.run([sys.executable, "-m", "benchmarks.homes", str(size)], check=True)


if __name__ == "__main__":
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 0
    if not wanted:
        main()
    else:
        with tempfile.TemporaryDirectory(prefix="dosewright-bench-") as place:
            taken = plan_them(wanted, Path(place), report=10_000 if wanted > 10_000 else 0)
            print(_said(wanted, taken), flush=True)
