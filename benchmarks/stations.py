"""Many stations fill cards at one time: nothing lost, nothing twice, and how long a fill action takes beside a bare one-row write.

Each station is a browser of somebody signed in, on a connection that stays open: it scans the bottle, places one cavity, is shown the
card again, and waits a moment. Before each round it sends a bare request that writes one row and commits: to the same server, through
the same middleware, session, sign-in and CSRF door, at the same time. So all kinds of request meet the same load, in the same run. Of
ten cavities one is tried by two stations at about the same time. At the end each cavity that somebody was told is filled must hold one
unit and the ledger one event, the ledger must verify, and units must be conserved lot by lot (R7, R11, R12).

The server is the one that `dosewright serve` starts: on PostgreSQL (started for this with its full durability, thrown away) two
processes serve 1, 10 and 50 stations; on SQLite one process serves 1 and 8.
`python -m benchmarks stations` is the short form, `python -m benchmarks.stations 600` the full one: ten minutes at 50 and at 8 stations.
"""

import contextlib
import http.client
import json
import os
import random
import shutil
import signal
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from time import monotonic, perf_counter, sleep
from typing import Any
from urllib.parse import urlencode

SHORT, WAIT = 30, (4.0, 12.0)  # seconds at each size; seconds between two rounds of one station: faster than hands are
PACE = sum(WAIT) / 2  # seconds that one station takes for a cavity, at the least
SHARED = 10  # each so many-th cavity is tried by two stations
PATIENCE = 120  # seconds until a server answers on a busy machine
Job = tuple[str, str]  # a card's number and a cell as the form sends it
BARE = "one-row write"
SCAN = "01062910415002131727063010LOT42A"


def main(words: Sequence[str]) -> None:
    """Print the figures for each database and number of stations."""
    if words and words[0] == "child":
        return _as_child(json.loads(sys.stdin.read()))
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

    with running_postgres(durable=True) as url:
        yield url


def _run(name: str, url: str, sizes: dict[int, int], processes: int) -> None:
    home = tempfile.mkdtemp(prefix="dosewright-stations-")
    kept = {
        "DOSEWRIGHT_HOME": home,
        "DATABASE_URL": url,
        "DOSEWRIGHT_HOSTS": "127.0.0.1,testserver",
        "DOSEWRIGHT_PROCESSES": str(processes),
    }
    environment = {**os.environ, **kept}
    try:
        cavities = sum(_share(stations, seconds) for stations, seconds in sizes.items())
        made = _child(environment, {"make": cavities // 7 + 2, "people": max(sizes)})
        jobs, sessions = [(number, cell) for number, cell in made["jobs"]], made["sessions"]
        first: dict[str, float] = {}
        for stations, seconds in sizes.items():
            share = _share(stations, seconds)
            part, jobs = jobs[:share], jobs[share:]
            with _served(environment) as port:
                found = _at_once(_dealt(part, stations), sessions, seconds, port)
            first = _tell(f"{name}, {stations} stations, {seconds} s", found, first)
        print(f"{name}: {_child(environment, {'check': True})['sound']}", flush=True)
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _share(stations: int, seconds: int) -> int:
    """How many cavities so many stations can fill in that time, at the most."""
    return int(stations * seconds / PACE * 1.5) + stations


def _dealt(jobs: list[Job], stations: int) -> list[list[Job]]:
    """Each station's own cavities; every tenth one is the next station's as well, at the same place of its list."""
    lists = [jobs[number::stations] for number in range(stations)]
    for number, own in enumerate(lists):
        other = lists[(number + 1) % stations]
        for place in range(2, min(len(own), len(other)), SHARED):
            if number % 2 == 0 and stations > 1:
                other[place] = own[place]
    return lists


@contextmanager
def _served(environment: dict[str, str]) -> Iterator[int]:
    """The server of pharmacies with the bare address beside; its port."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    said = json.dumps({"serve": port})
    running = _start(environment, said, start_new_session=True)
    try:
        _wait_for(port, running)
        yield port
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(running.pid, signal.SIGTERM)
        running.wait(timeout=PATIENCE)


def _wait_for(port: int, running: "subprocess.Popen[str]") -> None:
    until = monotonic() + PATIENCE
    while running.poll() is None and monotonic() < until:
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        sleep(0.1)
    raise SystemExit("the server did not answer; what it wrote stands above")


def _at_once(lists: list[list[Job]], sessions: list[str], seconds: int, port: int) -> list["Station"]:
    """All stations at work; what each saw."""
    stations = [Station(port, session) for session, _ in zip(sessions, lists, strict=False)]
    threads = [
        threading.Thread(target=one.work, args=(jobs, seconds, seed)) for seed, (one, jobs) in enumerate(zip(stations, lists, strict=True))
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return stations


class Station:
    """A browser at a bench: what it asked, how long that took, and what came of it."""

    def __init__(self, port: int, session: str) -> None:
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
        self._headers = {"Cookie": f"sessionid={session}; csrftoken={'a' * 32}", "X-CSRFToken": "a" * 32}
        self._name = session[:8]
        self.taken: dict[str, list[float]] = defaultdict(list)
        self.answers: Counter[str] = Counter()

    def work(self, jobs: list[Job], seconds: int, seed: int) -> None:
        """Round after round until the time is over. A first look at the screen, when the server has just begun, does not count."""
        chance, until = random.Random(seed), perf_counter() + seconds
        self._timed("", "GET", f"/cards/{jobs[0][0]}/fill", {}, {200: "shown"})
        sleep(chance.uniform(0, WAIT[1]))
        for number, cell in jobs:
            if perf_counter() > until:
                break
            self._fill(number, cell)
            sleep(chance.uniform(*WAIT))
        self._connection.close()

    def _fill(self, number: str, cell: str) -> None:
        bottle = {"medicine": "bisoprolol-5", "scan": SCAN, "lot": "LOT42A", "expiry": "2027-06-30"}
        spot = cell.split("=", maxsplit=1)[0].replace(".", "-")
        said = {**bottle, "cell": cell, "partly": "yes", "spot": spot, "token": f"{self._name} {number} {cell}"}
        self._timed(BARE, "POST", "/one-row", {}, {200: "written"})
        self._timed("scan", "POST", f"/cards/{number}/fill/scan", bottle, {200: "scanned", 422: "told it is full"})
        self._timed("place", "POST", f"/cards/{number}/fill/place", said, {302: "placed", 422: "told it is full"})
        self._timed("screen", "GET", f"/cards/{number}/fill?medicine=bisoprolol-5", {}, {200: "shown"})

    def _timed(self, kind: str, method: str, address: str, said: dict[str, str], meanings: dict[int, str]) -> None:
        headers = {**self._headers, "Content-Type": "application/x-www-form-urlencoded"}
        if kind == "scan":
            headers["HX-Request"] = "true"  # as the page sends it: only the bench's part comes back
        began = perf_counter()
        try:
            self._connection.request(method, address, urlencode(said) or None, headers)
            answer = self._connection.getresponse()
            answer.read()
            status = answer.status
        except (OSError, http.client.HTTPException) as error:
            print(f"{kind}: {error!r}", file=sys.stderr)
            self._connection.close()
            status = 0
        self.taken[kind].append(perf_counter() - began)
        self.answers[meanings.get(status, f"failed {status}")] += 1


def _tell(head: str, stations: list[Station], first: dict[str, float]) -> dict[str, float]:
    """One line; p95 of each kind."""
    kinds = (BARE, "scan", "place", "screen")
    taken = {kind: [time for one in stations for time in one.taken[kind]] for kind in kinds}
    answers = sum((one.answers for one in stations), Counter[str]())
    failed = sum(many for answer, many in answers.items() if answer.startswith("failed"))
    high = {kind: _p95(times) for kind, times in taken.items()}
    middle = {kind: statistics.median(times) for kind, times in taken.items()}
    ratios = "; ".join(f"a {kind}'s p95 {high[kind] / high[BARE]:.1f}, median {middle[kind] / middle[BARE]:.1f}" for kind in kinds[1:])
    print(
        f"{head}: {answers['placed']} cavities placed, {answers['told it is full']} times told that another was first, {failed} failed; "
        f"one-row write {high[BARE] * 1e3:.1f} ms p95, {middle[BARE] * 1e3:.1f} median; times that: {ratios}"
        + (f"; a placement's p95 is {high['place'] / first['place']:.1f} times that of one station alone" if first else ""),
        flush=True,
    )
    return first or high


def _p95(times: list[float]) -> float:
    return statistics.quantiles(times, n=20, method="inclusive")[-1] if len(times) > 1 else times[0]


def _start(environment: dict[str, str], work: str, *, start_new_session: bool = False) -> "subprocess.Popen[str]":
    """A process of its own, with Django set up."""
    command, root = [sys.executable, "-m", "benchmarks.stations", "child"], Path(__file__).resolve().parents[1]
    child = subprocess.Popen(
        command,
        cwd=root,
        env={**environment, "PYTHONPATH": str(root)},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=start_new_session,
    )
    assert child.stdin is not None
    child.stdin.write(work)
    child.stdin.close()
    return child


def _child(environment: dict[str, str], work: dict[str, object]) -> dict[str, Any]:
    child = _start(environment, json.dumps(work))
    assert child.stdout is not None
    said = child.stdout.read()
    assert child.wait() == 0, "a process of stations failed; what it wrote stands above"
    found: dict[str, Any] = json.loads(said.splitlines()[-1])
    return found


def _as_child(work: dict[str, Any]) -> None:
    """Make the store, or check it, or serve it."""
    from benchmarks import _at_station  # noqa: PLC0415  sets Django up

    if "make" in work:
        print(json.dumps({"jobs": _at_station.make_store(work["make"]), "sessions": _at_station.signed_in(work["people"])}))
    elif "check" in work:
        print(json.dumps({"sound": _at_station.check_store()}))
    else:
        from dosewright.config.serve import serve_application  # noqa: PLC0415

        serve_application("benchmarks._at_station:application", work["serve"])


if __name__ == "__main__":
    main(sys.argv[1:])
