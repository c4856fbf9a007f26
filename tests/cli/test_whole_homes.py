"""Plans of many people: in parts, through any executor, stopped and gone on with, always with the same bytes."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest
from tests.cli.home_makers import MANY, arguments, made, orders, plan_through, words_for
from tests.core.interop.interop_makers import MEDICINES

from dosewright.cli import files, plan_homes, plan_input
from dosewright.cli import plan as plan_command
from dosewright.cli.files import Unreadable
from dosewright.cli.plan_chunk import plan_chunk
from dosewright.cli.plan_homes import InMemory
from dosewright.cli.progress import Progress
from dosewright.cli.through import InThisProcess, run_through
from dosewright.cli.work_folder import WorkFolder
from dosewright.config.command import main


class Counts(InThisProcess):
    """Does each task here, and stops the program after so many, as a key or a signal would."""

    def __init__(self, stop_after: int = 10**9) -> None:
        self.done = 0
        self._stop_after = stop_after

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        if self.done >= self._stop_after:
            raise plan_command._Stopped(signal.SIGTERM)
        self.done += 1
        return super().submit(fn, *args, **kwargs)


class LastFirst(Executor):
    """Nothing is done until it must be, and then the last task first: the order of results says nothing."""

    def __init__(self, ahead: int) -> None:
        self._ahead, self._waiting = ahead, list[tuple[Future[Any], Callable[[], Any]]]()

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Future[Any] = Future()
        self._waiting.append((future, lambda: fn(*args, **kwargs)))
        if len(self._waiting) == self._ahead:
            self.catch_up()
        return future

    def catch_up(self) -> None:
        for future, work in reversed(self._waiting):
            future.set_result(work())
        self._waiting.clear()


@pytest.fixture
def whole(folder: Path) -> dict[str, bytes]:
    """What one uninterrupted run in one process writes."""
    assert plan_through(InThisProcess(), "whole", workers=1) == 1
    return made("whole")


def test_parts_give_the_bytes_that_all_at_once_give(whole: dict[str, bytes], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(plan_homes, "CHUNK", 1000)
    plan_through(InThisProcess(), "at-once", workers=1)
    assert made("at-once") == whole
    assert len(json.loads(whole["plan.json"])["people"]) == MANY


def test_any_number_of_workers_and_any_executor_give_the_same_bytes(whole: dict[str, bytes]) -> None:
    with ThreadPoolExecutor(3) as threads:
        plan_through(threads, "threads", workers=3)
    with ProcessPoolExecutor(2) as two:
        plan_through(two, "two")
    plan_through(LastFirst(6), "last-first", workers=3)
    assert made("threads") == made("two") == made("last-first") == whole


def test_workers_that_share_nothing_but_the_package_give_the_same_bytes(whole: dict[str, bytes]) -> None:
    """As a cluster's: started afresh, in another folder, they have only what a task brings along."""
    here = Path.cwd()
    with ProcessPoolExecutor(2, mp_context=get_context("spawn"), initializer=os.chdir, initargs=("/",)) as elsewhere:
        plan_through(elsewhere, "elsewhere")
    assert Path.cwd() == here
    assert made("elsewhere") == whole


def test_the_command_plans_in_as_many_processes_as_asked_for(whole: dict[str, bytes]) -> None:
    assert main(["plan", *words_for("three", "--workers", "3")]) == 1
    assert made("three") == whole


def test_documents_drawn_in_several_processes_are_the_bytes_that_one_draws(folder: Path) -> None:
    Path("orders.csv").write_text(orders(2, ("Take one tablet every morning",)).replace("as the doctor said", "Take one at night"), "utf-8")
    words = [word for word in words_for("here") if word != "--no-paper"]
    plan_command.plan_through(words, InThisProcess(), 1)
    with ProcessPoolExecutor(2) as two:
        plan_command.plan_through([word.replace("here", "there") for word in words], two, 2)
    assert {"labels.pdf", "fill.pdf", "record.pdf"} < set(made("here"))
    assert made("there") == made("here")


def test_a_run_that_was_stopped_writes_nothing_and_goes_on_with_what_is_left(whole: dict[str, bytes]) -> None:
    with pytest.raises(plan_command._Stopped):
        plan_through(Counts(stop_after=4), "out", workers=1)
    assert not Path("out").exists()
    going_on = Counts()
    plan_through(going_on, "out", "--resume", workers=1)
    assert made("out") == whole
    assert 0 < going_on.done < 6  # of six parts some were finished
    assert not Path(".out.work").exists()


def test_without_asking_a_run_begins_afresh(whole: dict[str, bytes]) -> None:
    with pytest.raises(plan_command._Stopped):
        plan_through(Counts(stop_after=4), "out", workers=1)
    afresh = Counts()
    plan_through(afresh, "out", workers=1)
    assert afresh.done == 6
    assert made("out") == whole


@pytest.mark.parametrize("changed", ["an order", "a name", "the days", "a medicine", "the profile"])
def test_after_any_change_nothing_of_the_run_that_was_stopped_is_used(folder: Path, changed: str) -> None:
    with pytest.raises(plan_command._Stopped):
        plan_through(Counts(stop_after=4), "out", workers=1)
    more: tuple[str, ...] = ()
    match changed:
        case "an order":
            Path("orders.csv").write_text(orders().replace("half a tablet", "two tablets", 1), "utf-8")
        case "a name":
            Path("orders.csv").write_text(orders().replace("Person 1,", "Person One,"), "utf-8")
        case "the days":
            more = ("--days", "7")
        case "a medicine":
            Path("medicines.csv").write_text(MEDICINES.replace("Losartan", "Losartane"), "utf-8")
        case "the profile":
            more = ("--profile", "us")
    afresh = Counts()
    plan_through(afresh, "out", "--resume", *more, workers=1)
    assert afresh.done == 6


def test_two_runs_into_one_folder_do_not_mix(folder: Path) -> None:
    held = WorkFolder("out", "key", resume=False)
    with pytest.raises(Unreadable, match="another run"):
        plan_through(InThisProcess(), "out", workers=1)
    held.close()


def test_a_worker_that_dies_is_said_and_nothing_is_written(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Any) -> None:
    class Dies(InThisProcess):
        def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
            raise BrokenExecutor("gone")

    monkeypatch.setattr(plan_command, "processes", lambda workers: Dies())
    assert main(["plan", *words_for("out")]) == 2
    assert "--resume" in capsys.readouterr().err
    assert not Path("out").exists()


def test_a_plan_of_the_command_is_right_by_the_recount(whole: dict[str, bytes], capsys: Any) -> None:
    assert main(["verify", "whole/plan.json", "orders.csv", "--medicines", "medicines.csv"]) == 1  # of the one order that cannot be read
    assert "verify." not in capsys.readouterr().out


@pytest.mark.parametrize("workers", ["1", "3"])
def test_a_spoiled_plan_is_found_out_in_whichever_part(whole: dict[str, bytes], capsys: Any, workers: str) -> None:
    plan = json.loads(whole["plan.json"])
    cavities = plan["people"][13]["cards"][0]["cavities"]
    cavities[0]["contents"][0]["quantity"] = "7"
    plan["people"][17]["cards"][0]["number"] = plan["people"][3]["cards"][0]["number"]
    del plan["people"][20]
    spoiled = whole["plan.json"].decode().split("\n")
    at = next(place for place, line in enumerate(spoiled) if '"id": "p0"' in line)
    for place in (13, 17):
        spoiled[at + place] = f"  {json.dumps(plan['people'][place])},"
    del spoiled[at + 20]
    capsys.readouterr()
    said = []
    for name, text in (("lines.json", "\n".join(spoiled)), ("whole.json", json.dumps(plan))):
        Path(name).write_text(text, "utf-8")
        assert main(["verify", name, "orders.csv", "--medicines", "medicines.csv", "--workers", workers]) == 1
        said.append(sorted(capsys.readouterr().out.splitlines()))
    assert said[0] == said[1]
    assert len([line for line in said[0] if line.startswith("stop: p13")]) > 0
    assert any("p20" in line for line in said[0])


def test_a_plan_far_larger_than_any_other_file_is_recounted(whole: dict[str, bytes], monkeypatch: pytest.MonkeyPatch, capsys: Any) -> None:
    monkeypatch.setattr(files, "LARGEST_INPUT", 8000)
    assert len(whole["plan.json"]) > 8000
    capsys.readouterr()
    main(["verify", "whole/plan.json", "orders.csv", "--medicines", "medicines.csv"])
    assert "right: 23 people" in capsys.readouterr().out


def test_only_so_many_tasks_are_under_way(folder: Path) -> None:
    taken: list[int] = []

    def numbers() -> Any:
        for number in range(20):
            taken.append(number)
            yield number, number

    executor = LastFirst(3)
    results = run_through(executor, str, numbers(), 3)
    next(results)
    assert len(taken) <= 4
    executor.catch_up()
    del results


def test_what_a_task_raises_reaches_the_caller() -> None:
    with pytest.raises(ZeroDivisionError):
        list(run_through(InThisProcess(), lambda number: 1 // number, [(0, 1), (1, 0)], 1))


def test_progress_is_silent_where_nobody_looks_and_counts_where_asked(capsys: Any) -> None:
    Progress(2, 0, always=False).add(2)
    assert capsys.readouterr().err == ""
    Progress(2, 0, always=True).add(2)
    assert capsys.readouterr().err.startswith("planned 2 of 2 people")


def test_parts_hold_only_their_own_people(folder: Path) -> None:
    args = arguments("out")
    given = plan_input.with_orders(args, plan_input.read_setting(args, args.first, args.days, args.profile, args.card_format))
    tasks = dict(plan_homes._tasks(given, InMemory(), explain=False))
    assert tasks
    for task in tasks.values():
        people = {person.id for person in task.part.request.people}
        assert {order.person for order in task.part.request.orders} <= people
        assert {json.loads(line)["id"] for line in plan_chunk(task).people} == people


def test_a_signal_stops_the_command_and_resume_gives_the_same_bytes(tmp_path: Path) -> None:
    """The real thing: processes, TERM in the middle, and on again."""
    (tmp_path / "medicines.csv").write_text(MEDICINES, "utf-8")
    (tmp_path / "orders.csv").write_text(orders(448), "utf-8")
    command = [sys.executable, "-m", "dosewright.config.command", "plan"]
    running = subprocess.Popen([*command, *words_for("out", "--workers", "2")], cwd=tmp_path, stderr=subprocess.PIPE)
    while running.poll() is None and not list(tmp_path.glob(".out.work/*/*.json")):
        time.sleep(0.01)
    running.send_signal(signal.SIGTERM)
    _, said = running.communicate(timeout=120)
    assert running.returncode == 143, said
    assert not (tmp_path / "out").exists()
    finished = len(list(tmp_path.glob(".out.work/*/*.json")))
    assert 0 < finished < 7
    for out, more in (("out", ("--resume", "--workers", "2")), ("once", ("--workers", "1"))):
        subprocess.run([*command, *words_for(out, *more)], cwd=tmp_path, check=False, capture_output=True, timeout=300)
    assert {e.name: e.read_bytes() for e in (tmp_path / "out").iterdir()} == {e.name: e.read_bytes() for e in (tmp_path / "once").iterdir()}
    assert not (tmp_path / ".out.work").exists()
