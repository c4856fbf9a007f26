"""A pytest plugin that switches one rule's code off: `SWITCH_OFF=module:function pytest -p tools.switch_off …`.

The function then answers that nothing is wrong, wherever it was imported to. A test that stays green with the code off does not guard it.
Within a process: `with switched_off("module:function"): …`; there a method, `module:Class.method`, may be named as well.
"""

import importlib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

__all__ = ["switch_off", "switched_off"]

_Held = tuple[object, str, object]  # who holds it, under which name, and the function itself


def switch_off(name: str) -> list[_Held]:
    """Replace `module:function` (below dosewright) in everything that holds it, which is given back. Raises AttributeError where there is
    none."""
    module_name, _, function = name.partition(":")
    owner: object = importlib.import_module(f"dosewright.{module_name}")
    *classes, last = function.split(".")
    for name_of_class in classes:
        owner = getattr(owner, name_of_class)
    original = getattr(owner, last)
    modules = [held for key, held in sys.modules.items() if key.startswith(("dosewright", "tests"))]
    owners: list[object] = [owner] if classes else list(modules)
    holding = [(one, key, original) for one in owners for key, held in vars(one).items() if held is original]
    for one, key, _ in holding:
        setattr(one, key, _nothing_wrong)
    return holding


@contextmanager
def switched_off(name: str) -> Iterator[None]:
    """As long as the block lasts."""
    holding = switch_off(name)
    try:
        yield
    finally:
        for one, key, original in holding:
            setattr(one, key, original)


def _nothing_wrong(*_args: object, **_kwargs: object) -> tuple[()]:
    return ()


def pytest_configure() -> None:
    """As early as a plugin can: modules that import the function later get the replacement."""
    if name := os.environ.get("SWITCH_OFF"):
        switch_off(name)
