"""Faults put into a running bench while cards are filled: `python -m tools.kill_server [FAULT…] --times 200 [--seed 1] [--served 5]`.

Two programs place one cavity after the other by the API, each request with its key. The server's process is killed (kill -9) at random
points of their requests; a request that was not answered is sent again with its key when the server is back. After each kill the ledger
must verify and units must be conserved lot by lot; at the end each placement that was ever answered must be in the ledger once, and no
other twice. Then the same while the disk is full, and while PostgreSQL is stopped and started again under the server.

The server is this program's own application, forked afresh each time, which takes no time to start; `served` and `served-postgresql` kill
`dosewright serve` itself, on each database. Faults, all where none is named: killed, served, served-postgresql, disk-full (no file may
grow), no-room (a disk of a few MB is filled to the last byte; needs root, which may mount one), restarted (PostgreSQL).
Exit code 0: nothing was lost and nothing done twice; 1 and a sentence: what was.
"""

import argparse
import contextlib
import http.client
import json
import os
import random
import resource
import shutil
import signal
import socket
import socketserver
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING
from wsgiref.simple_server import WSGIRequestHandler, WSGIServer

if TYPE_CHECKING:
    from tools.with_postgres import PostgresServer

__all__ = ["Report", "disk_full", "killed", "main", "new_store", "no_room", "restarted", "served", "through_restarts"]

ROOT = Path(__file__).resolve().parent.parent
PROGRAMS = 2
DISK = 24  # MB of the disk that is filled
PATIENCE = 120  # seconds until a server answers on a busy machine
SCAN = "01062910415002131727063010LOT42A"
Start = Callable[[], "Running"]


def main(words: list[str] | None = None) -> int:
    """All of it, one line each."""
    parser = argparse.ArgumentParser(prog="python -m tools.kill_server", description="Put faults into a running bench.")
    parser.add_argument(
        "faults",
        nargs="*",
        choices=tuple(_FAULTS),
        default=tuple(_FAULTS),
        metavar="FAULT",
        help=f"{', '.join(_FAULTS)}; all where none is named",
    )
    parser.add_argument("--times", type=int, default=200, help="kills of the application (200)")
    parser.add_argument("--served", type=int, default=5, help="kills of `dosewright serve` itself (5)")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args(words)
    for name in args.faults:
        print(_FAULTS[name](args), flush=True)
    return 0


def _killed(args: argparse.Namespace) -> str:
    return f"killed {args.times} times: {_apart('', 'killed', args.times, args.seed)}"


def _served_on_sqlite(args: argparse.Namespace) -> str:
    return f"dosewright serve on SQLite killed {args.served} times: {_apart('', 'served', args.served, args.seed)}"


def _served_on_postgresql(args: argparse.Namespace) -> str:
    from tools.with_postgres import running_postgres  # noqa: PLC0415  only where it is started

    with running_postgres(durable=True) as url:
        return f"dosewright serve on PostgreSQL killed {args.served} times: {_apart(url, 'served', args.served, args.seed)}"


def _disk_full(args: argparse.Namespace) -> str:
    return f"disk full: {_apart('', 'disk_full', 3, args.seed)}"


def _no_room(args: argparse.Namespace) -> str:
    if os.getuid():
        return "no-room: left out, only root may mount a disk for it"
    return f"a disk of {DISK} MB filled to the last byte 10 times: {_apart('', 'no_room', 10, args.seed)}"


def _restarted(args: argparse.Namespace) -> str:
    from tools.with_postgres import postgres_server  # noqa: PLC0415  only where it is started

    with postgres_server(durable=True) as server:
        return f"PostgreSQL restarted 10 times: {restarted(server, 10)}"


_FAULTS: dict[str, Callable[[argparse.Namespace], str]] = {
    "killed": _killed,
    "served": _served_on_sqlite,
    "served-postgresql": _served_on_postgresql,
    "disk-full": _disk_full,
    "no-room": _no_room,
    "restarted": _restarted,
}


def _apart(url: str, what: str, times: int, seed: int) -> str:
    """One kind of fault in a process and a store of its own: settings are read once in a process."""
    home = tempfile.mkdtemp(prefix="dosewright-faults-")
    code = f"from tools.kill_server import *; new_store({times * (20 if what == 'no_room' else 1)}); print({what}({times}, {seed}))"
    kept = {**os.environ, "DOSEWRIGHT_HOME": home, "DATABASE_URL": url, "DOSEWRIGHT_HOSTS": "127.0.0.1", "PYTHONPATH": "src:."}
    with _disk_at(home) if what == "no_room" else contextlib.nullcontext():
        said = subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=kept, stdout=subprocess.PIPE, text=True, check=False)
    shutil.rmtree(home, ignore_errors=True)
    if said.returncode:
        raise SystemExit(f"{what}: something was lost, done twice or broken; what was found stands above")
    return said.stdout.strip().splitlines()[-1]


@contextlib.contextmanager
def _disk_at(folder: str) -> Iterator[None]:
    """A small disk in memory, mounted there as long as the block lasts."""
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={DISK}m", "dosewright-faults", folder], check=True)
    try:
        yield
    finally:
        subprocess.run(["umount", "--lazy", folder], check=True)


@dataclass
class Report:
    """What was tried and what came of it."""

    answered: set[tuple[str, str]] = field(default_factory=set)
    unanswered: int = 0
    done_unanswered: int = 0
    taken: list[float] = field(default_factory=list)

    @property
    def usual(self) -> float:
        """Seconds that a request takes here, so that kills fall before, into and between requests on any machine."""
        return statistics.median(self.taken[-20:]) if self.taken else 0.5

    def __str__(self) -> str:
        said = f"{len(self.answered)} placements answered, each in the ledger once; {self.unanswered} requests cut off"
        return f"{said}, {self.done_unanswered} of them done and answered when sent again; ledger and units sound after each"


class Running:
    """A server that can be killed: its port, and the process group that is its own."""

    def __init__(self, pid: int, port: int) -> None:
        self.pid, self.port = pid, port

    def kill(self) -> None:
        """kill -9, the whole group."""
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)


def new_store(times: int) -> None:
    """A store with enough printed cards, and a token; DOSEWRIGHT_HOME and DATABASE_URL say where."""
    from dosewright.config.running import set_up_store  # noqa: PLC0415  settings are read when this is called

    set_up_store()
    from benchmarks import _at_station  # noqa: PLC0415

    _at_station.make_store(12 + times)
    _close()


def killed(times: int, seed: int) -> Report:
    """Kill the application so often while it fills."""
    return _filled_through(times, seed, lambda: _forked(lambda: None))


def served(times: int, seed: int) -> Report:
    """Kill `dosewright serve` so often while it fills."""
    return _filled_through(times, seed, _serve)


def disk_full(times: int, seed: int) -> Report:
    """Fill while the disk takes a little more and then nothing; then with room again, and so on."""
    return _filled_through(times, seed, lambda: _forked(_little_room), pause=1.5)


def no_room(times: int, seed: int) -> Report:
    """`dosewright serve` stays; its disk is filled by something else, and later has room again."""
    chance, report, jobs = random.Random(seed), Report(), _jobs()  # noqa: S311  when to fill it is no secret
    running = _serve()
    for _ in range(times):
        programs = [_Program(jobs, report, running.port) for _ in range(PROGRAMS)]
        for program in programs:
            program.start()
        time.sleep(chance.uniform(0.2, 1.0))
        with _filled_disk():
            for program in programs:
                program.join(PATIENCE)
            _sound()
        _settle(report, programs, running.port)
        _sound()
    running.kill()
    return _whole(report)


@contextlib.contextmanager
def _filled_disk() -> Iterator[None]:
    """Not a byte of room on the disk of the store. What the store itself had taken before is its own."""
    filler = Path(os.environ["DOSEWRIGHT_HOME"]) / "something else"
    with filler.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        for size in (2**20, 4096, 1):
            with contextlib.suppress(OSError):
                while True:
                    file.write(b"x" * size)
    try:
        yield
    finally:
        filler.unlink()


def restarted(server: "PostgresServer", times: int) -> str:
    """Fill while PostgreSQL is stopped, "fast" and "immediately" in turn, and started again."""
    home = tempfile.mkdtemp(prefix="dosewright-faults-")
    kept = {**os.environ, "DOSEWRIGHT_HOME": home, "DATABASE_URL": server.url, "DOSEWRIGHT_HOSTS": "127.0.0.1", "PYTHONPATH": "src:."}
    code = f"from tools import kill_server as k; k.new_store({times * 8}); print(k.through_restarts({times}))"
    last = ""
    try:
        with subprocess.Popen(
            [sys.executable, "-c", code], cwd=ROOT, env=kept, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        ) as child:
            for line in child.stdout or ():
                last = line.strip()
                if line.startswith("restart ") and child.stdin:
                    server.stop(signal.SIGQUIT if int(line.split()[1]) % 2 else signal.SIGINT)
                    server.start()
                    child.stdin.write("back\n")
                    child.stdin.flush()
    finally:
        shutil.rmtree(home, ignore_errors=True)
    if child.returncode:
        raise SystemExit("PostgreSQL restarted: something was lost, done twice or broken; what was found stands above")
    return last


def through_restarts(times: int) -> Report:
    """The application stays, its database goes and comes back."""
    report, jobs = Report(), _jobs()
    running = _forked(lambda: None)
    try:
        _restart_by_restart(times, report, jobs, running)
    finally:
        running.kill()
    return _whole(report)


def _restart_by_restart(times: int, report: Report, jobs: Iterator[tuple[int, str, str]], running: Running) -> None:
    for number in range(times):
        programs = [_Program(jobs, report, running.port) for _ in range(PROGRAMS)]
        for program in programs:
            program.start()
        time.sleep(1.0)
        print(f"restart {number}", flush=True)
        sys.stdin.readline()
        time.sleep(1.0)
        for program in programs:
            program.over = True
            program.join()
        _settle(report, programs, running.port)


def _filled_through(times: int, seed: int, start: Start, pause: float = 0.0) -> Report:
    chance, report, jobs = random.Random(seed), Report(), _jobs()  # noqa: S311  where to kill is no secret
    pending: list[_Program] = []
    for number in range(times):
        if number and number % 25 == 0:
            print(f"{number} of {times}: sound so far", file=sys.stderr, flush=True)
        running = start()
        _settle(report, pending, running.port)
        pending = [_Program(jobs, report, running.port) for _ in range(PROGRAMS)]
        for program in pending:
            program.start()
        time.sleep(pause or chance.uniform(0, 3 * report.usual))
        running.kill()
        for program in pending:
            program.join()
        _sound()
    running = _forked(lambda: None)
    _settle(report, pending, running.port)
    running.kill()
    return _whole(report)


class _Program(threading.Thread):
    """Places cavity after cavity until a request is not answered, which is `open` then, or nothing is left to place."""

    def __init__(self, jobs: Iterator[tuple[int, str, str]], report: Report, port: int) -> None:
        super().__init__()
        self._jobs, self._report, self._port = jobs, report, port
        self.open: tuple[int, str, str] | None = None
        self.over = False

    def run(self) -> None:
        """Until the server is gone."""
        while not self.over:
            with _ONE:
                job = next(self._jobs, None)
            if job is None:
                return
            if not send(job, self._port, self._report):
                self.open = job
                return


_ONE = threading.Lock()


def send(job: tuple[int, str, str], port: int, report: Report) -> bool:
    """One placement with the job's own key; whether it was answered. An answer that it is not done is one sentence and the end."""
    set_id, number, cell = job
    place, amount, order = cell.split("=", 2)
    row, column = place.split(".")
    cells = [{"card": number, "row": int(row), "column": int(column), "order": order, "amount": amount}]
    body = json.dumps({"medicine": "bisoprolol-5", "scan": SCAN, "lot": "LOT42A", "expiry": "2027-06-30", "cells": cells})
    key = f"{number}-{row}-{column}"
    headers = {"Authorization": f"Bearer {_token()}", "Idempotency-Key": key, "Content-Type": "application/json"}
    connection, began = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE), time.monotonic()
    try:
        connection.request("POST", f"/api/sets/{set_id}/place", body, headers)
        answer = connection.getresponse()
        said = answer.read()
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()
    if answer.status >= 500:
        return False
    if answer.status != 200:
        raise SystemExit(f"{key}: answered {answer.status}: {said.decode()}")
    report.answered.add((number, cell))
    report.taken.append(time.monotonic() - began)
    return True


def _settle(report: Report, programs: list[_Program], port: int) -> None:
    """What was not answered is sent again; what had been done all the same must be answered as done, and not be done again."""
    placed = _placed()
    for program in programs:
        if program.open is None:
            continue
        report.unanswered += 1
        report.done_unanswered += placed.get(program.open[1:], 0)
        until = time.monotonic() + PATIENCE
        while not send(program.open, port, report):
            if time.monotonic() > until:
                raise SystemExit("a request was not answered although the server is back")
            time.sleep(0.1)


def _whole(report: Report) -> Report:
    """Every answer is in the ledger once, and nothing is there twice."""
    placed = _placed()
    if lost := report.answered - set(placed):
        raise SystemExit(f"answered and lost: {sorted(lost)[:3]}")
    if twice := [spot for spot, times in placed.items() if times > 1]:
        raise SystemExit(f"done twice: {twice[:3]}")
    _sound()
    return report


def _placed() -> dict[tuple[str, str], int]:
    from dosewright.core.custody.event import Deed  # noqa: PLC0415
    from dosewright.store.ledger import load_entries  # noqa: PLC0415

    found: Counter[tuple[str, str]] = Counter()
    for entry in load_entries("card"):
        if entry.event == Deed.PLACED.value:
            found.update((entry.subject_id, cell) for cell in json.loads(entry.body)["cells"])
    _close()
    return dict(found)


def _sound() -> None:
    from dosewright.core.supply.account import check_accounts  # noqa: PLC0415
    from dosewright.core.units.finding import needs_a_person  # noqa: PLC0415
    from dosewright.store.card_units import load_units_in_cards  # noqa: PLC0415
    from dosewright.store.ledger import check_ledger  # noqa: PLC0415
    from dosewright.store.stock import load_movements, load_stock_by_lot  # noqa: PLC0415

    if needs_a_person(check_ledger()):
        raise SystemExit("the ledger is broken")
    if check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()):
        raise SystemExit("units were lost or found")
    _close()


def _jobs() -> Iterator[tuple[int, str, str]]:
    """Every cavity of every card: the set, the card, the cell."""
    from benchmarks._at_station import cells_of_card  # noqa: PLC0415

    from dosewright.core.units.ids import CardNumber  # noqa: PLC0415
    from dosewright.store.models import CardRow  # noqa: PLC0415

    cards = list(CardRow.objects.order_by("number").values_list("card_set_id", "number"))
    found = [(set_id, number, cell) for set_id, number in cards for cell in cells_of_card(CardNumber(number))]
    _close()
    return iter(found)


@cache
def _token() -> str:
    """The program's token; made with its account the first time it is asked for."""
    from tests.bench_fixtures import on  # noqa: PLC0415

    from dosewright.core.custody.event import Role  # noqa: PLC0415
    from dosewright.core.custody.rights import Ability  # noqa: PLC0415
    from dosewright.core.custody.tokens import LONGEST, TokenAsk  # noqa: PLC0415
    from dosewright.devices.clock import SystemClock  # noqa: PLC0415
    from dosewright.store.accounts import NewAccount, save_account  # noqa: PLC0415
    from dosewright.store.api_tokens import hash_of, save_token  # noqa: PLC0415

    who, word = save_account(NewAccount("filler", "Filler", Role.TECHNICIAN), "tern-street-2026"), "dw_filler"
    until = SystemClock().now().date() + LONGEST
    save_token(TokenAsk("filler", who, frozenset({Ability.PLACE_MEDICINE}), None, until), who, hash_of(word), on(Role.MANAGER))
    _close()
    return word


def _close() -> None:
    """A fork must not share a connection."""
    from django.db import connections  # noqa: PLC0415

    connections.close_all()


class _Threaded(socketserver.ThreadingMixIn, WSGIServer):
    daemon_threads = True


class _Silent(WSGIRequestHandler):
    def log_message(self, *_: object) -> None:
        """Nothing: addresses are nobody's business."""


def _forked(before: Callable[[], None]) -> Running:
    """The application in a child of this process; `before` runs in the child first."""
    _token()
    from dosewright.config.wsgi import application  # noqa: PLC0415

    server = _Threaded(("127.0.0.1", 0), _Silent)
    port = int(server.server_address[1])
    pid = os.fork()
    if pid == 0:
        os.setpgid(0, 0)
        sys.stderr.flush()
        os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
        before()
        server.set_app(application)
        server.serve_forever()
    with contextlib.suppress(PermissionError):
        os.setpgid(pid, pid)
    server.server_close()
    return Running(pid, port)


def _little_room() -> None:
    """No file of this process may grow beyond a little more than the store's files are now: the write fails as on a full disk."""
    home = Path(os.environ["DOSEWRIGHT_HOME"])
    largest = max(path.stat().st_size for path in home.glob("dosewright.sqlite3*"))
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (largest + 64 * 1024, resource.RLIM_INFINITY))


def _serve() -> Running:
    """`dosewright serve`, waited for until it answers."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    _token()
    command = [sys.executable, "-c", "import sys; from dosewright.config.command import main; sys.exit(main(['serve']))"]
    kept = {**os.environ, "DOSEWRIGHT_PORT": str(port)}
    child = subprocess.Popen(command, cwd=ROOT, env=kept, start_new_session=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return Running(child.pid, port)
        time.sleep(0.1)
    raise SystemExit("dosewright serve did not answer")


if __name__ == "__main__":
    sys.exit(main())
