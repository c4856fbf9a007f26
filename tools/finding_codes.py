"""Where the source makes findings, read from the source itself: which codes, and how grave. Comes in: the package. Goes out: `Made` values.

A finding is made by `Finding(code, severity, …)` or by a function that passes its own argument on as the code (a maker), perhaps with a
beginning of its own. What cannot be seen without running (a severity that depends) is said to vary, never guessed.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

__all__ = ["PACKAGE", "Made", "is_mentioned", "made", "severities"]

PACKAGE = Path(__file__).resolve().parent.parent / "src" / "dosewright"
_CODE = re.compile(r"[a-z0-9]+(?:[.-][a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Made:
    """One place that makes a finding: the code where it stands there, and the severity where it stands there ("" where not)."""

    code: str
    severity: str
    module: str


@dataclass(frozen=True, slots=True)
class _Maker:
    """A function that makes findings of the code in its argument number `place`: what it puts before the code, and how grave it says."""

    place: int
    beginning: str
    severity: str


_FINDING = _Maker(0, "", "")


@cache
def made() -> tuple[Made, ...]:
    """Every place in the package where a code is written out."""
    return tuple(found for path in _sources() for found in _made_in(path))


def is_mentioned(code: str) -> bool:
    """Whether the source writes the code out, or its beginning where it puts a code together (`f"alongside.{why}"`)."""
    texts, beginnings = _mentioned()
    return code in texts or any(code.startswith(beginning) for beginning in beginnings)


@cache
def severities(code: str) -> str:
    """ "stop", "decide", "note", or "decide or stop" as the places that make it say; "varies" where none says."""
    said = sorted({found.severity for found in made() if found.code == code} - {""})
    return " or ".join(said) or "varies"


@cache
def _mentioned() -> tuple[frozenset[str], frozenset[str]]:
    texts, beginnings = set(), set()
    for path in _sources():
        for node in ast.walk(_tree(path)):
            if isinstance(node, ast.JoinedStr):
                beginnings.add(_beginning(node))
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                texts.add(node.value)
    return frozenset(texts), frozenset(text for text in beginnings if text and _CODE.fullmatch(f"{text}x"))


@cache
def _sources() -> tuple[Path, ...]:
    return tuple(path for path in sorted(PACKAGE.rglob("*.py")) if "wording" not in path.parts)


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def _made_in(path: Path) -> Iterator[Made]:
    module = ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)
    for call, maker in _making_calls(path, _tree(path)):
        for code in _written(call.args[maker.place]):
            if _CODE.fullmatch(f"{maker.beginning}{code}"):
                yield Made(f"{maker.beginning}{code}", _severity(call) or maker.severity, module)


def _written(argument: ast.expr) -> Iterator[str]:
    """The codes written out in an argument: a text, or either side of `a if x else b`."""
    sides = (argument.body, argument.orelse) if isinstance(argument, ast.IfExp) else (argument,)
    for side in sides:
        if isinstance(side, ast.Constant) and isinstance(side.value, str):
            yield side.value


def _making_calls(path: Path, within: ast.AST) -> Iterator[tuple[ast.Call, _Maker]]:
    """Every call of a maker that gives it a code."""
    for call in ast.walk(within):
        if isinstance(call, ast.Call) and (maker := _maker(path, _name(call.func))) and len(call.args) > maker.place:
            yield call, maker


def _maker(path: Path, name: str) -> _Maker | None:
    """What a name means in a module: its own function first, then a public one of the package."""
    if name == "Finding":
        return _FINDING
    return _makers().get((str(path), name)) or _makers().get(("", name))


_FOUND: dict[tuple[str, str], _Maker] = {}  # grows until no new maker is found
_COMPLETE: list[bool] = []


def _makers() -> dict[tuple[str, str], _Maker]:
    """(module, name) → maker; public functions also under ("", name)."""
    if not _COMPLETE:
        _COMPLETE.append(True)
        before = -1
        while before < len(_FOUND):
            before = len(_FOUND)
            for path in _sources():
                _find_makers(path)
    return _FOUND


def _find_makers(path: Path) -> None:
    for function in ast.walk(_tree(path)):
        if isinstance(function, ast.FunctionDef):
            for call, maker in list(_making_calls(path, function)):
                if (place := _passes_on(call.args[maker.place], function)) is not None:
                    own = _Maker(place, maker.beginning + _beginning(call.args[maker.place]), _severity(call) or maker.severity)
                    _FOUND.setdefault((str(path), function.name), own)
                    if not function.name.startswith("_"):
                        _FOUND.setdefault(("", function.name), own)


def _passes_on(argument: ast.expr, function: ast.FunctionDef) -> int | None:
    """Which of the function's own arguments becomes the code; None where none does. A method's `self` is not counted."""
    names = [argument.arg for argument in (*function.args.posonlyargs, *function.args.args) if argument.arg != "self"]
    inside = argument.values if isinstance(argument, ast.JoinedStr) else [argument]
    used = [node.value if isinstance(node, ast.FormattedValue) else node for node in inside]
    return next((names.index(node.id) for node in used if isinstance(node, ast.Name) and node.id in names), None)


def _beginning(argument: ast.expr) -> str:
    """The text before the first thing that is filled in: "verify." of `f"verify.{code}"`."""
    first = argument.values[0] if isinstance(argument, ast.JoinedStr) and argument.values else None
    return str(first.value) if isinstance(first, ast.Constant) else ""


def _severity(call: ast.Call) -> str:
    """The severity written in this very call, "" where there is none or more than one."""
    given = [*call.args, *(keyword.value for keyword in call.keywords)]
    said = {name for argument in given for node in ast.walk(argument) if (name := _severity_name(node))}
    return said.pop() if len(said) == 1 else ""


def _severity_name(node: ast.AST) -> str:
    """ "stop" for `Severity.STOP`, "" for anything else."""
    named = isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "Severity"
    return node.attr.lower() if named and isinstance(node, ast.Attribute) else ""


def _name(function: ast.expr) -> str:
    return function.id if isinstance(function, ast.Name) else function.attr if isinstance(function, ast.Attribute) else ""
