"""Work through an executor: tasks in, results out as they are done, never more than so many under way. Holds nothing else in memory.

Any `concurrent.futures.Executor` will do: processes of this machine, or a cluster's. `workers_here` is how many this machine has room for.
"""

import os
import signal
import threading
import time
from argparse import ArgumentTypeError
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from typing import Any, TypeVar

__all__ = ["InThisProcess", "number_of_workers", "processes", "run_through", "workers_here"]

_MOST_WORKERS = 1024
Task = TypeVar("Task")
Result = TypeVar("Result")


def run_through(
    executor: Executor, work: Callable[[Task], Result], tasks: Iterable[tuple[int, Task]], ahead: int
) -> Iterator[tuple[int, Result]]:
    """Each task's number with its result, in the order in which they are done; a task is taken from `tasks` only when fewer than `ahead`
    are under way. What a task raises is raised here, and what has not begun is taken back."""
    waiting: dict[Future[Result], int] = {}
    try:
        for number, task in tasks:
            while len(waiting) >= ahead:
                yield from _done(waiting)
            waiting[executor.submit(work, task)] = number
        while waiting:
            yield from _done(waiting)
    finally:
        for future in waiting:
            future.cancel()


def _done(waiting: dict[Future[Result], int]) -> Iterator[tuple[int, Result]]:
    finished, _ = wait(waiting, return_when=FIRST_COMPLETED)
    for future in finished:
        yield waiting.pop(future), future.result()


class InThisProcess(Executor):
    """Does each task at once, here: for few people, and where nothing else may be started."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Done when this returns."""
        future: Future[Any] = Future()
        future.set_running_or_notify_cancel()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:  # handed over, as every executor does
            future.set_exception(error)
        return future


def number_of_workers(text: str) -> int:
    """An argument that is a number of processes. Raises ArgumentTypeError."""
    if not (text.isascii() and text.isdigit() and len(text) <= 4 and 1 <= int(text) <= _MOST_WORKERS):
        raise ArgumentTypeError(f"{text!r} is not a number of processes from 1 to {_MOST_WORKERS}")
    return int(text)


def workers_here() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def processes(workers: int) -> Executor:
    """So many processes of this machine. They leave a key that stops the program to the parent, and end when it is gone."""
    return ProcessPoolExecutor(workers, initializer=_follow_the_parent, initargs=(os.getpid(),)) if workers > 1 else InThisProcess()


def _follow_the_parent(parent: int) -> None:
    """In each worker. A parent that was killed cannot end them."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: int) -> None:
    while os.getppid() == parent:
        time.sleep(1)
    os._exit(1)
