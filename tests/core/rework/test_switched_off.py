"""Each rule of rework that `docs/safety.md` lists one by one is switched off in this process; the test beside it must then fail.

It says no more than the table that is tried in processes of their own, and costs next to nothing: so it can have every rule.
"""

import re
from importlib import import_module
from pathlib import Path
from types import FunctionType, ModuleType

import pytest
from tools.switch_off import switched_off

PAGE = Path(__file__).resolve().parents[3] / "docs" / "safety.md"
ROW = re.compile(r"^\| [^|]+ \| `(core\.rework\.\w+:[\w.]+)` \| `tests/core/rework/(\w+)\.py::(\w+)` \|$", re.MULTILINE)
SECTION = PAGE.read_text("utf-8").split("## The rules of rework, switched off one by one\n")[1].split("\n## ")[0]
ROWS = ROW.findall(SECTION)
PARTS = ("asked", "choices", "difference", "earlier", "layout", "on_demand", "picked", "proof", "recount", "touched")


def test_every_line_is_read_and_every_part_that_refuses_has_one() -> None:
    assert len(ROWS) == SECTION.count("\n| ") - 2  # the line of names, and the dashes below it
    assert {code.split(".")[2].split(":")[0] for code, _, _ in ROWS} == set(PARTS)


@pytest.mark.parametrize(("code", "module", "test"), ROWS, ids=[code for code, _, _ in ROWS])
def test_the_test_of_a_rule_is_red_without_its_code(code: str, module: str, test: str) -> None:
    run = the_test(import_module(f"tests.core.rework.{module}"), test)
    run()
    with switched_off(code), pytest.raises((AssertionError, ValueError)):
        run()


def the_test(module: ModuleType, name: str) -> FunctionType:
    found = vars(module)[name]
    assert isinstance(found, FunctionType)
    return found
