"""The page about security is true: each test that it names is there, and each chapter of the standard that applies is spoken of."""

import ast
import re

from tests.house.source_tree import ROOT

PAGE = (ROOT / "docs" / "security.md").read_text("utf-8")
ROWS = re.findall(r"^\| ([\d.–, ]+) \| [^|]+ \| `(tests/[\w/.]+)::(\w+)` \|$", PAGE, re.MULTILINE)


def test_every_row_has_an_item_and_a_test() -> None:
    assert len(ROWS) == sum(line.startswith("| ") and line[2].isdigit() for line in PAGE.splitlines())
    assert {item.split(".")[0] for items, _, _ in ROWS for item in re.split(r"[–, ]+", items)} >= set("23457") | {"8", "12", "13", "14"}


def test_every_test_that_is_named_is_there() -> None:
    missing = [(path, name) for _, path, name in ROWS if name not in _tests_of(path)]
    assert not missing


def _tests_of(path: str) -> set[str]:
    parsed = ast.parse((ROOT / path).read_text("utf-8"))
    return {node.name for node in ast.walk(parsed) if isinstance(node, ast.FunctionDef)}
