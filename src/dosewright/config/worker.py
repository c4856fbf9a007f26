"""The task runner: a thread of the serving process that does long work, so that no request has to. Once a day it tidies the store.

It lives in that process because on SQLite writers take turns inside one process (`store.turns`), and because `dosewright serve` and
`dosewright demo` stay one command. On PostgreSQL each serving process has one; a task is taken by one of them only (row locks).
"""

import logging
import threading
import time
from datetime import timedelta

from django.conf import settings
from django.db import close_old_connections
from django_tasks_db.management.commands.db_worker import Worker
from django_tasks_db.models import DBTaskResult

from dosewright.actions.carry_on import carry_on
from dosewright.store.long_work import stalled_work
from dosewright.store.tidying import forget_old
from dosewright.store.turns import write_turn

__all__ = ["do_waiting_work", "start_worker", "take_up_stalled"]

_LOOKS_EVERY = 1.0  # seconds between two looks for work; a look reads, and locks nothing
_TIDIES_AFTER, _TIDIES_EVERY = 10 * 60.0, 24 * 60 * 60.0  # seconds: not while the bench begins, and then once a day
_QUIET = timedelta(minutes=5)  # longer than any one part takes: work that did not move for so long has lost its worker


def start_worker() -> threading.Thread:
    """Begin looking for work, until the process ends."""
    worker = threading.Thread(target=_run, name="long work", daemon=True)
    worker.start()
    return worker


def _run() -> None:
    rest, tidy_at = threading.Event(), time.monotonic() + _TIDIES_AFTER
    _quietly(lambda: take_up_stalled(timedelta(0) if settings.DATABASES["default"]["ENGINE"].endswith("sqlite3") else _QUIET))
    while True:
        _quietly(do_waiting_work)
        if time.monotonic() > tidy_at:
            tidy_at = time.monotonic() + _TIDIES_EVERY
            _quietly(lambda: forget_old(settings.BENCH_CLOCK.now()))
        rest.wait(_LOOKS_EVERY)


def _quietly(work: object) -> None:
    """A database that is away for a moment ends one look, not the worker. The log says so, without anybody's data."""
    try:
        close_old_connections()
        work()  # type: ignore[operator]
    except Exception as error:
        logging.getLogger("dosewright.worker").warning("long work was interrupted: %s", type(error).__name__)
    finally:
        close_old_connections()


def do_waiting_work() -> None:
    """Everything that waits in line now, then return."""
    if not DBTaskResult.objects.ready().exists():
        return
    Worker(
        queue_names=["*"],
        interval=0,
        batch=True,
        backend_name="default",
        startup_delay=False,
        max_tasks=None,
        worker_id=f"thread {threading.get_ident()}",
        excluded_queue_names=[],
    ).run()


def take_up_stalled(quiet: timedelta) -> None:
    """Work whose worker ended in the middle is put in line again; its parts bear marks, so that none is done twice. On SQLite the process
    that begins is the only one, so that all of it has stalled; on PostgreSQL another may be at it, and only what is quiet counts."""
    for work_id in stalled_work(settings.BENCH_CLOCK.now(), quiet):
        with write_turn():
            carry_on.enqueue(work_id)
