"""Break the reader and the expansion on purpose, one small fault at a time, and see whether a test goes red.

`python -m tools.mutate [--seed 1] [--code 400] [--tables 200] [--minutes 60] [--again] [--quick]`: a sample of the faults that can be
put into `core/regimen`, its word tables and its grammar. What is known from an earlier run and unchanged is not tried again, so that it may
be stopped at any time; `--again` tries those once more that no test had noticed. Results: `out/mutation.jsonl`, one fault a line.

All tests are loaded once, and each is traced: which lines it runs, which lines of directions it reads. Then each fault is tried in a
copy of this process that exchanges the one function (or constant, or table) and runs the tests that come near it, the likeliest first.
"""

import argparse
import hashlib
import json
import os
import random
import resource
import signal
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from _pytest.runner import runtestprotocol
from tools.faults import Fault, all_faults, clear_caches, put_in
from tools.traced import Traced, trace, trace_building

ROOT = Path(__file__).parents[1]
RESULTS = ROOT / "out" / "mutation.jsonl"
TRACES = ROOT / "out" / "mutation-traces.json"
TESTS = ("tests/core/regimen", "tests/core/interop/test_standard_examples.py", "tests/cli/test_doses_cases.py")
_KILLED, _SURVIVED, _NOT_VIABLE = 1, 0, 3
_MEMORY = 4 << 30
MOST_EXAMPLES = 30


@dataclass(slots=True)
class Mutation:
    """The pytest plugin: takes over once the tests are collected."""

    sample: Sequence[Fault]
    known: dict[str, dict[str, Any]]
    end: float
    traced: bool = True
    near: dict[str, Traced] = field(default_factory=dict)
    kills: Counter[str] = field(default_factory=Counter)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """In place of running the tests."""
        building = trace_building()
        _try_fewer_examples(session.items)
        if self.traced:
            self._trace_all(session.items)
        waiting = [fault for fault in self.sample if fault.id not in self.known]
        print(f"{len(session.items)} tests; {len(waiting)} of {len(self.sample)} faults to try", flush=True)
        for fault in waiting:
            if time.monotonic() > self.end:
                break
            began = time.monotonic()
            tests = self._tests_of(fault, session.items, building)
            outcome, by = self._try(fault, tests, building) if tests else ("no test", "")
            self._note(fault, outcome, by, time.monotonic() - began)
        return True

    def _trace_all(self, items: Sequence[pytest.Item]) -> None:
        key = _state_of_sources()
        if TRACES.exists() and (kept := json.loads(TRACES.read_text(encoding="utf-8")))["key"] == key:
            self.near = {name: Traced.loaded(text) for name, text in kept["near"].items()}
        missing = [item for item in items if item.nodeid not in self.near]
        for place, item in enumerate(missing):
            if place % 100 == 0:
                print(f"tracing {place} of {len(missing)}", flush=True)
            self._trace(item)
            if place % 100 == 99 or item is missing[-1]:
                self._keep_traces(key)

    def _keep_traces(self, key: str) -> None:
        TRACES.write_text(json.dumps({"key": key, "near": {name: one.dumped() for name, one in self.near.items()}}), encoding="utf-8")

    def _trace(self, item: pytest.Item) -> None:
        clear_caches()
        reader, writer = os.pipe()
        if (child := os.fork()) == 0:
            _be_quiet()
            with os.fdopen(writer, "w", encoding="utf-8") as pipe:
                pipe.write(trace(lambda: _passes(item)).dumped())
            os._exit(0)
        os.close(writer)
        with os.fdopen(reader, encoding="utf-8") as pipe:
            found = pipe.read()
        os.waitpid(child, 0)
        self.near[item.nodeid] = Traced.loaded(found)
        if not self.near[item.nodeid].passed:
            print(f"left out, because it does not pass with few examples: {item.nodeid}", flush=True)

    def _tests_of(self, fault: Fault, items: Sequence[pytest.Item], building: Traced) -> list[pytest.Item]:
        if not self.traced:
            found = [item for item in items if item.nodeid.startswith(_beside(fault)) and not _is_property(item)]
            return sorted(found, key=lambda item: -self.kills[item.nodeid])
        built = building.runs(fault)
        tests = [item for item in items if self.near[item.nodeid].passed and self.near[item.nodeid].is_near(fault, built=built)]
        return sorted(tests, key=lambda item: -(self.kills[item.nodeid] + 0.05) / (self.near[item.nodeid].seconds + 0.02))

    def _try(self, fault: Fault, tests: Sequence[pytest.Item], building: Traced) -> tuple[str, str]:
        reader, writer = os.pipe()
        if (child := os.fork()) == 0:
            _be_quiet()
            resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
            code, by = _SURVIVED, ""
            try:
                clear_caches(languages=fault.is_table or building.runs(fault))
                put_in(fault)
                code, by = next(((_KILLED, item.nodeid) for item in tests if not _passes(item)), (_SURVIVED, ""))
            except (ValueError, SyntaxError, TypeError) as error:
                code, by = _NOT_VIABLE, repr(error)
            except BaseException as error:  # whatever a fault makes of the machinery, it was noticed
                code, by = _KILLED, repr(error)
            os.write(writer, by.encode()[:4000])
            os._exit(code)
        os.close(writer)
        limit = 30 + 5 * sum(self.near[item.nodeid].seconds for item in tests) if self.traced else 300
        status = _wait(child, limit)
        with os.fdopen(reader, encoding="utf-8", errors="replace") as pipe:
            by = pipe.read()
        if status == _KILLED and "::" in by:
            self.kills[by] += 1
        return {_KILLED: "killed", _SURVIVED: "survived", _NOT_VIABLE: "not viable"}.get(status, "timed out"), by

    def _note(self, fault: Fault, outcome: str, by: str, seconds: float) -> None:
        row = {"id": fault.id, **fault.described(), "outcome": outcome, "by": by, "seconds": round(seconds, 1)}
        self.known[fault.id] = row
        with RESULTS.open("a", encoding="utf-8") as file:
            file.write(json.dumps(row, ensure_ascii=False) + "\n")


def _state_of_sources() -> str:
    """What the traces depend on."""
    paths = sorted(
        [*(ROOT / "src" / "dosewright" / "core").rglob("*.py"), *(ROOT / "tests").rglob("*.py"), *(ROOT / "tests" / "cases").iterdir()]
    )
    return hashlib.sha256(b"".join(path.read_bytes() for path in paths if path.is_file())).hexdigest()


def _is_property(item: pytest.Item) -> bool:
    return "hypothesis" in item.keywords or "test_expand_calendar" in item.nodeid


def _beside(fault: Fault) -> tuple[str, ...]:
    """Where the tests of its room lie."""
    room = fault.file.removeprefix("core/regimen/").partition("/")
    if not room[1]:
        return ("tests/core/regimen/test_", "tests/core/interop", "tests/cli")
    return (f"tests/core/regimen/{room[0]}/",)


def _try_fewer_examples(items: Sequence[pytest.Item]) -> None:
    """A property is tried with at most so many examples: the rate found is a lower bound."""
    from hypothesis import settings  # noqa: PLC0415  pytest must know of it first

    for item in items:
        function = getattr(item, "obj", None)
        asked = getattr(function, "_hypothesis_internal_use_settings", None)
        if asked is not None and asked.max_examples > MOST_EXAMPLES:
            function._hypothesis_internal_use_settings = settings(asked, max_examples=MOST_EXAMPLES)  # type: ignore[union-attr]


def _be_quiet() -> None:
    silence = os.open(os.devnull, os.O_WRONLY)
    os.dup2(silence, 1)
    os.dup2(silence, 2)


def _passes(item: pytest.Item) -> bool:
    return not any(report.failed for report in runtestprotocol(item, log=False, nextitem=None))


def _wait(child: int, limit: float) -> int:
    """Its exit code; -1 where it had to be ended."""
    end = time.monotonic() + limit
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.01)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return -1


def _sample(faults: Sequence[Fault], many: int, seed: int) -> list[Fault]:
    chance = random.Random(hashlib.sha256(f"{seed}".encode()).hexdigest())  # noqa: S311 — no secret: the same seed, the same sample
    return chance.sample(faults, min(many, len(faults)))


def _known(*, again: bool) -> dict[str, dict[str, Any]]:
    if not RESULTS.exists():
        return {}
    rows = [json.loads(line) for line in RESULTS.read_text(encoding="utf-8").splitlines()]
    found = {row["id"]: row for row in rows}
    return {key: row for key, row in found.items() if not (again and row["outcome"] in ("survived", "no test"))}


def report(rows: Sequence[dict[str, Any]]) -> Iterator[str]:
    """The rate of each part, and every fault that no test noticed."""
    parts: dict[str, Counter[str]] = {}
    for row in rows:
        parts.setdefault(row["part"], Counter())[row["outcome"]] += 1
    for part, found in [*sorted(parts.items()), ("all", sum(parts.values(), Counter()))]:
        tried = found.total() - found["not viable"]
        noticed = found["killed"] + found["timed out"]
        yield f"{part}: {noticed} of {tried} noticed, {100 * noticed / max(tried, 1):.1f} % ({dict(sorted(found.items()))})"
    for row in rows:
        if row["outcome"] in ("survived", "no test"):
            yield f"{row['outcome']}: {row['file']}:{row['line']} {row['kind']}: {row['said']}"


def main() -> int:
    """Try the sample and print the rates."""
    parser = argparse.ArgumentParser(prog="tools.mutate")
    for name, default in (("seed", 1), ("code", 400), ("tables", 200), ("minutes", 60)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--again", action="store_true")
    parser.add_argument("--quick", action="store_true", help="only the worked examples of the fault's room, untraced: for a small sample")
    parser.add_argument("--only", default="", help="only files whose path holds this")
    asked = parser.parse_args()
    RESULTS.parent.mkdir(exist_ok=True)
    faults = [fault for fault in all_faults() if asked.only in fault.file]
    code = _sample([fault for fault in faults if not fault.is_table], asked.code, asked.seed)
    tables = _sample([fault for fault in faults if fault.is_table], asked.tables, asked.seed)
    mixed = _sample([*code, *tables], len(code) + len(tables), asked.seed)  # stopped early, it is still a fair sample
    plugin = Mutation(mixed, _known(again=asked.again), time.monotonic() + 60 * asked.minutes, not asked.quick)
    status = pytest.main([*TESTS, "-q", "-s", "-p", "no:cacheprovider"], plugins=[plugin])
    rows = [plugin.known[fault.id] for fault in mixed if fault.id in plugin.known]
    print("\n".join(report(rows)))
    print(f"{len(faults)} faults can be put in; {len(rows)} of the {len(mixed)} drawn were tried")
    return int(status)


if __name__ == "__main__":
    sys.exit(main())
