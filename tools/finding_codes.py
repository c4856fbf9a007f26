"""Where the source makes findings, read from the source itself: which codes, and how grave. Comes in: the package. Goes out: `Made` values.

A finding is made by `Finding(code, severity, …)` or by a function that passes its own argument on as the code (a maker). What cannot be
seen without running (a code put together, a severity that depends) is said to vary, never guessed.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

__all__ = ["PACKAGE", "Made", "is_mentioned", "made", "severities"]

PACKAGE = Path(__file__).resolve().parent.parent / "src" / "dosewright"
_CODE = re.compile(r"[a-z0-9]+(?:[.-][a-z0-9]+)+")


@dataclass(frozen=True, slots=True)
class Made:
    """One place that makes a finding: the code where it stands there, and the severity where it stands there ("" where not)."""

    code: str
    severity: str
    module: str


@cache
def made() -> tuple[Made, ...]:
    """Every place in the package where a code is written out."""
    return tuple(found for path in _sources() for found in _made_in(path))


def is_mentioned(code: str) -> bool:
    """Whether the source writes the code out, or its beginning where it puts a code together (`f"alongside.{why}"`)."""
    texts, beginnings = _mentioned()
    return code in texts or any(code.startswith(beginning) for beginning in beginnings)


@cache
def _mentioned() -> tuple[frozenset[str], frozenset[str]]:
    texts, beginnings = set(), set()
    for path in _sources():
        for node in ast.walk(_tree(path)):
            if isinstance(node, ast.JoinedStr) and isinstance(first := node.values[0], ast.Constant):
                beginnings.add(str(first.value))
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                texts.add(node.value)
    return frozenset(texts), frozenset(text for text in beginnings if _CODE.fullmatch(f"{text}x"))


def severities(code: str) -> str:
    """ "stop", "decide", "note", or "decide or stop" as the places that make it say; "varies" where none says."""
    said = sorted({found.severity for found in made() if found.code == code} - {""})
    return " or ".join(said) or "varies"


def _sources() -> Iterator[Path]:
    return (path for path in sorted(PACKAGE.rglob("*.py")) if "wording" not in path.parts)


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def _made_in(path: Path) -> Iterator[Made]:
    module = ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)
    for call in ast.walk(_tree(path)):
        if isinstance(call, ast.Call) and (name := _name(call.func)) in {"Finding", *_makers()}:
            for code in _codes(call, direct=name == "Finding"):
                yield Made(code, _severity(call) or _makers().get(name, ""), module)


def _codes(call: ast.Call, *, direct: bool) -> Iterator[str]:
    """The texts among the positional arguments that are codes; the first one, whatever its form, where a finding is made directly."""
    for argument in call.args[:1] if direct else call.args:
        for node in ast.walk(argument) if isinstance(argument, ast.IfExp) else (argument,):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and (direct or _CODE.fullmatch(node.value)):
                yield node.value


@cache
def _makers() -> dict[str, str]:
    """Name of each function that passes an argument on as a code → the severity it gives, "" where that is an argument too."""
    found: dict[str, str] = {}
    for path in _sources():
        for node in ast.walk(_tree(path)):
            if isinstance(node, ast.FunctionDef):
                for call in _finding_calls(node):
                    if _passes_on(call, node):
                        found[node.name] = "" if node.name in found and found[node.name] != _severity(call) else _severity(call)
    return found


def _finding_calls(function: ast.FunctionDef) -> Iterator[ast.Call]:
    return (node for node in ast.walk(function) if isinstance(node, ast.Call) and _name(node.func) == "Finding" and node.args)


def _passes_on(call: ast.Call, function: ast.FunctionDef) -> bool:
    arguments = {argument.arg for argument in function.args.args}
    return bool({node.id for node in ast.walk(call.args[0]) if isinstance(node, ast.Name)} & arguments)


def _severity(call: ast.Call) -> str:
    """The severity written in this very call, "" where there is none or more than one."""
    given = [*call.args, *(keyword.value for keyword in call.keywords)]
    said = {
        node.attr.lower() for argument in given for node in ast.walk(argument) if _is_severity(node) and isinstance(node, ast.Attribute)
    }
    return said.pop() if len(said) == 1 else ""


def _is_severity(node: ast.AST) -> bool:
    return isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "Severity"


def _name(function: ast.expr) -> str:
    return function.id if isinstance(function, ast.Name) else function.attr if isinstance(function, ast.Attribute) else ""
