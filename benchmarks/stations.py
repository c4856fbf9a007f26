"""Many stations fill cards at one time: nothing lost, nothing twice, and how long a fill action takes beside a bare one-row write.

Each station is somebody signed in who scans the bottle, places one cavity, and waits a moment; between the fill actions it sends a bare
request that writes one row, behind the same middleware and sign-in. So both kinds of request meet the same load, in the same run. Every
tenth cavity is tried by two stations at about the same time. At the end each cavity that somebody was told is filled must hold one unit and
the ledger one event, the ledger must verify, and units must be conserved lot by lot (R7, R11, R12).

On PostgreSQL (started for this, thrown away) two processes serve 1, 10 and 50 stations; on SQLite one process serves 1 and 8.
`python -m benchmarks stations` is the short form, `python -m benchmarks.stations 600` the full one: ten minutes at 50 and at 8 stations.
"""

import json
import os
import random
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from time import perf_counter, sleep
from typing import Any

SHORT, WAIT = 20, (2.0, 6.0)  # seconds at each size; seconds between two fill actions of one station: faster than hands are
PACE = sum(WAIT) / 2  # seconds that one station takes for a cavity, at the least
SHARED = 10  # each so many-th cavity is tried by two stations
Job = tuple[str, str]  # a card's number and a cell as the form sends it


def main(words: Sequence[str]) -> None:
    """Print the figures for each database and number of stations."""
    if words and words[0] == "serve":
        return _serve(json.loads(sys.stdin.read()))
    seconds = next((int(word) for word in words if word.isdigit()), SHORT)
    if "sqlite" not in words:
        with _postgres() as url:
            _run("PostgreSQL", url, {1: SHORT, 10: SHORT, 50: seconds}, processes=2)
    if "postgresql" not in words:
        _run("SQLite", "", {1: SHORT, 8: seconds}, processes=1)
    return None


@contextmanager
def _postgres() -> Iterator[str]:
    from tools.with_postgres import running_postgres  # noqa: PLC0415  only where it is measured

    with running_postgres() as url:
        yield url


def _run(name: str, url: str, sizes: dict[int, int], processes: int) -> None:
    home = tempfile.mkdtemp(prefix="dosewright-stations-")
    try:
        environment = {**os.environ, "DOSEWRIGHT_HOME": home, "DATABASE_URL": url, "DOSEWRIGHT_HOSTS": "testserver"}
        made = int(sum(stations * seconds / PACE for stations, seconds in sizes.items()) / 7) + 60
        jobs: list[Job] = _child(environment, {"make": made})["jobs"]
        first: dict[str, float] = {}
        for stations, seconds in sizes.items():
            share = int(stations * seconds / PACE) + stations
            part, jobs = jobs[:share], jobs[share:]
            found = _at_once(environment, part, stations, seconds, processes)
            first = _tell(name, stations, seconds, found, first)
        print(f"{name}: {_child(environment, {'check': True})['sound']}")
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _at_once(environment: dict[str, str], jobs: list[Job], stations: int, seconds: int, processes: int) -> list[dict[str, Any]]:
    """All stations at work, spread over the processes; what each process saw."""
    lists = _dealt(jobs, stations)
    count = min(processes, stations)
    works = [{"fill": lists[number::count], "seconds": seconds} for number in range(count)]
    children = [_start(environment) for _ in works]
    for child, work in zip(children, works, strict=True):
        assert child.stdin is not None
        child.stdin.write(json.dumps(work))
        child.stdin.close()
    return [_finish(child) for child in children]


def _dealt(jobs: list[Job], stations: int) -> list[list[Job]]:
    """Each station's own cavities; every tenth one is the next station's as well, at the same place of its list."""
    lists = [jobs[number::stations] for number in range(stations)]
    for number, own in enumerate(lists):
        other = lists[(number + 1) % stations]
        for place in range(SHARED - 1, min(len(own), len(other)), SHARED):
            if number % 2 == 0 and stations > 1:
                other[place] = own[place]
    return lists


def _tell(name: str, stations: int, seconds: int, found: list[dict[str, Any]], first: dict[str, float]) -> dict[str, float]:
    taken: dict[str, list[float]] = defaultdict(list)
    answers: Counter[str] = Counter()
    for one in found:
        answers.update(one["answers"])
        for kind, times in one["taken"].items():
            taken[kind] += times
    high = {kind: _p95(times) for kind, times in taken.items()}
    ratios = {kind: high[kind] / high["one-row write"] for kind in ("scan", "place")}
    middle = {kind: statistics.median(times) for kind, times in taken.items()}
    print(
        f"{name}, {stations} stations, {seconds} s: {answers['placed']} cavities placed, {answers['told it is full']} told that another was"
        f" first, {answers['failed']} failed; p95 of a one-row write {high['one-row write'] * 1e3:.1f} ms, "
        f"of a scan {ratios['scan']:.1f} times that, of a placement {ratios['place']:.1f} times "
        f"(medians {middle['one-row write'] * 1e3:.1f}, {middle['scan'] * 1e3:.1f}, {middle['place'] * 1e3:.1f} ms)"
        + (f"; a placement's p95 is {high['place'] / first['place']:.1f} times that of one station alone" if first else ""),
        flush=True,
    )
    return first or high


def _p95(times: list[float]) -> float:
    return statistics.quantiles(times, n=20, method="inclusive")[-1] if len(times) > 1 else times[0]


def _start(environment: dict[str, str]) -> "subprocess.Popen[str]":
    command = [sys.executable, "-m", "benchmarks.stations", "serve"]
    root = Path(__file__).resolve().parents[1]
    return subprocess.Popen(command, cwd=root, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def _finish(child: "subprocess.Popen[str]") -> dict[str, Any]:
    assert child.stdout is not None
    said = child.stdout.read()
    assert child.wait() == 0, "a process of stations failed; what it wrote stands above"
    found: dict[str, Any] = json.loads(said.splitlines()[-1])
    return found


def _child(environment: dict[str, str], work: dict[str, object]) -> dict[str, Any]:
    child = _start(environment)
    assert child.stdin is not None
    child.stdin.write(json.dumps(work))
    child.stdin.close()
    return _finish(child)


def _serve(work: dict[str, object]) -> None:
    """A process of its own, with Django set up: make the store, or check it, or fill."""
    from benchmarks import _at_station  # noqa: PLC0415  sets Django up

    if "make" in work:
        print(json.dumps({"jobs": _at_station.make_store(int(str(work["make"])))}))
    elif "check" in work:
        print(json.dumps({"sound": _at_station.check_store()}))
    else:
        _fill(work["fill"], float(str(work["seconds"])))  # type: ignore[arg-type]


def _fill(lists: list[list[Job]], seconds: float) -> None:
    from benchmarks._at_station import Station  # noqa: PLC0415  sets Django up

    taken: dict[str, list[float]] = defaultdict(list)
    answers: Counter[str] = Counter()
    stations = [Station(f"station {os.getpid()}-{number}") for number in range(len(lists))]
    until = perf_counter() + seconds

    def work(station: "Station", jobs: list[Job], seed: int) -> None:
        chance = random.Random(seed)
        sleep(chance.uniform(0, WAIT[1]))
        for job in jobs:
            if perf_counter() > until:
                break
            for kind, answer, time in station.fill(job):
                taken[kind].append(time)
                answers[answer] += 1
            sleep(chance.uniform(*WAIT))
        station.leave()

    threads = [threading.Thread(target=work, args=(one, jobs, seed)) for seed, (one, jobs) in enumerate(zip(stations, lists, strict=True))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    print(json.dumps({"taken": taken, "answers": answers}))


if __name__ == "__main__":
    main(sys.argv[1:])
