"""A pytest plugin that switches rules' code off, one after the other: `SWITCH_OFF=rows.json pytest -p tools.switch_off …`.

The file holds pairs of code (`module:function` below dosewright) and test. Each pair is tried in a copy of this process, with the function
answering that nothing is wrong, wherever it is held; without code, as things are. What came of it goes to the same file with `.done` added.
A test that stays green with the code off does not guard it. Within a process: `with switched_off("module:function"): …`. A method may be
named as well, `module:Class.method`.
"""

import importlib
import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import reduce
from pathlib import Path
from types import FunctionType

import pytest
from _pytest.runner import runtestprotocol

__all__ = ["pytest_runtestloop", "switch_off", "switched_off"]

GREEN, RED, NONE_SUCH = "green", "red", "no such test"


def switch_off(name: str) -> Callable[[], None]:
    """Let `module:function` (below dosewright) find nothing from now on; gives back what undoes it. Raises AttributeError where there is
    none."""
    module_name, _, path = name.partition(":")
    *owners, last = path.split(".")
    owner = reduce(getattr, owners, importlib.import_module(f"dosewright.{module_name}"))
    original = getattr(owner, last)
    if isinstance(original, FunctionType) and not original.__code__.co_freevars:
        return _exchange_code(original)  # wherever it is held: a table or a default holds it too
    held = [owner, *(one for key, one in sys.modules.items() if key.startswith(("dosewright", "tests")))]
    places = [(one, key) for one in held for key, value in vars(one).items() if value is original]
    for one, key in places:
        setattr(one, key, _nothing_wrong)

    def undo() -> None:
        for one, key in places:
            setattr(one, key, original)

    return undo


def _exchange_code(function: FunctionType) -> Callable[[], None]:
    before = function.__code__, function.__defaults__, function.__kwdefaults__
    function.__code__, function.__defaults__, function.__kwdefaults__ = _nothing_wrong.__code__, None, None

    def undo() -> None:
        function.__code__, function.__defaults__, function.__kwdefaults__ = before

    return undo


@contextmanager
def switched_off(name: str) -> Iterator[None]:
    """As long as the block lasts."""
    undo = switch_off(name)
    try:
        yield
    finally:
        undo()


def _nothing_wrong(*_args: object, **_kwargs: object) -> tuple[()]:
    return ()


@pytest.hookimpl(tryfirst=True)
def pytest_runtestloop(session: pytest.Session) -> bool | None:
    """In place of running the tests, where the file of pairs is named."""
    if not (path := os.environ.get("SWITCH_OFF")):
        return None
    rows = json.loads(Path(path).read_text("utf-8"))
    _make_database(session.items)
    found = [[code, test, _tried(session.items, test, code)] for code, test in rows]
    Path(f"{path}.done").write_text(json.dumps(found), encoding="utf-8")
    return True


def _make_database(items: Sequence[pytest.Item]) -> None:
    """Once for all copies: one test that needs it is run here. A copy opens the file anew."""
    for item in [item for item in items if item.get_closest_marker("django_db")][:1]:
        _fails(item, next((one for one in items if one.fspath != item.fspath), None))
        from django.db import connections  # noqa: PLC0415  core's tests run without Django

        connections.close_all()


def _tried(items: Sequence[pytest.Item], test: str, code: str) -> str:
    """What becomes of the test in a copy of this process."""
    mine = [item for item in items if item.nodeid == test or item.nodeid.startswith(f"{test}[")]
    if not mine:
        return NONE_SUCH
    if (child := os.fork()) == 0:
        outcome = 2
        try:
            if code:
                switch_off(code)
            elsewhere = next((item for item in items if item.fspath != mine[0].fspath), None)
            outcome = int(any(_fails(item, elsewhere) for item in mine))
        finally:
            os._exit(outcome)
    _, status = os.waitpid(child, 0)
    return {0: GREEN, 1: RED}.get(os.waitstatus_to_exitcode(status), f"ended with {status}")


def _fails(item: pytest.Item, next_one: pytest.Item | None) -> bool:
    """With one of another file to follow, what all tests share (the database) is left standing, and nothing else."""
    return any(report.failed for report in runtestprotocol(item, log=False, nextitem=next_one))
