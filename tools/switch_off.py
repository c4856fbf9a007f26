"""A pytest plugin that switches one rule's code off: `SWITCH_OFF=module:function pytest -p tools.switch_off …`.

The function then answers that nothing is wrong, wherever it was imported to. A test that stays green with the code off does not guard it.
"""

import importlib
import os
import sys
from types import ModuleType

__all__ = ["switch_off"]


def switch_off(name: str) -> None:
    """Replace `module:function` (below dosewright) in every module that holds it. Raises AttributeError where there is none."""
    module_name, _, function = name.partition(":")
    original = getattr(importlib.import_module(f"dosewright.{module_name}"), function)
    for module in [held for key, held in sys.modules.items() if key.startswith(("dosewright", "tests"))]:
        _replace(module, original)


def _replace(module: ModuleType, original: object) -> None:
    for name in [name for name, held in vars(module).items() if held is original]:
        setattr(module, name, _nothing_wrong)


def _nothing_wrong(*_args: object, **_kwargs: object) -> tuple[()]:
    return ()


def pytest_configure() -> None:
    """As early as a plugin can: modules that import the function later get the replacement."""
    if name := os.environ.get("SWITCH_OFF"):
        switch_off(name)
