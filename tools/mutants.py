"""Small faults put into Python code, one at a time: what a slip of the hand could have written instead.

Comes in: the source of a module. Goes out: `Mutant`s in the order of the text; `mutated` makes the tree of one. Faults: a comparison
reversed or moved to its boundary, plus for minus, `and` for `or`, a condition always or never true, `not` left out, a constant changed,
a result replaced by None, a statement left out, one alternative of a union or of a `match` left out. Annotations, imports, docstrings,
decorators and `__all__` are left alone.
"""

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass

__all__ = ["Mutant", "find_mutants", "mutated"]

Change = Callable[[ast.AST], ast.AST]
_SWAPPED: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.LtE), ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,), ast.In: (ast.NotIn,), ast.NotIn: (ast.In,),
    ast.Add: (ast.Sub,), ast.Sub: (ast.Add,), ast.Mult: (ast.Add,), ast.Div: (ast.Mult,), ast.FloorDiv: (ast.Mult,), ast.Mod: (ast.Mult,),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Mutant:
    """One fault: the `place`-th node of the tree, changed in the `way`-th way it can be; `lines` are those of its statement.

    `function` is the qualified name of the outermost function it lies in; "" where it lies in none: then `name` is what is assigned there.
    """

    kind: str
    place: int
    way: int
    lines: tuple[int, int]
    function: str
    name: str
    said: str


@dataclass(frozen=True, slots=True)
class _Where:
    function: str = ""
    name: str = ""
    lines: tuple[int, int] = (0, 0)


def find_mutants(source: str) -> list[Mutant]:
    """Every fault that can be put in."""
    tree = ast.parse(source)
    places = {id(node): place for place, node in enumerate(ast.walk(tree))}
    found: list[Mutant] = []
    for node, where in _places(tree, _Where()):
        for way, (kind, change) in enumerate(_changes(node)):
            said = f"{_brief(node)} → {_brief(change(copy.deepcopy(node)))}"
            found.append(Mutant(kind, places[id(node)], way, where.lines, where.function, where.name, said))
    return found


def mutated(source: str, mutant: Mutant) -> ast.Module:
    """The tree with the fault in it."""
    tree = ast.parse(source)
    wanted = next(node for place, node in enumerate(ast.walk(tree)) if place == mutant.place)
    _, change = _changes(wanted)[mutant.way]
    _Replacer(wanted, change).visit(tree)
    return ast.fix_missing_locations(tree)


class _Replacer(ast.NodeTransformer):
    def __init__(self, wanted: ast.AST, change: Change) -> None:
        self._wanted, self._change = wanted, change

    def visit(self, node: ast.AST) -> ast.AST:
        if node is self._wanted:
            changed = self._change(copy.deepcopy(node))
            return changed if isinstance(changed, ast.Module) else ast.copy_location(changed, node)
        return self.generic_visit(node)


def _places(node: ast.AST, where: _Where) -> Iterator[tuple[ast.AST, _Where]]:
    """Every node that may be changed, in order, and where it stands."""
    for child in _children(node):
        inside = _inside(child, where)
        if inside.function or inside.name:
            yield child, inside
        yield from _places(child, inside)


def _inside(node: ast.AST, where: _Where) -> _Where:
    if isinstance(node, ast.ClassDef):
        return _Where(f"{node.name}.")  # a class body is no function: see `_children`
    if isinstance(node, ast.FunctionDef):
        whole = where.function and not where.function.endswith(".")
        return _Where(where.function if whole else f"{where.function}{node.name}", "", _header(node))
    if isinstance(node, ast.stmt):
        name = where.name
        if not where.function and isinstance(node, ast.Assign | ast.AnnAssign):
            target = node.targets[0] if isinstance(node, ast.Assign) else node.target
            name = target.id if isinstance(target, ast.Name) else ""
        return _Where(where.function, name, _header(node))
    return where


def _header(node: ast.stmt) -> tuple[int, int]:
    """The lines of a statement; of one that holds others only its head."""
    body = getattr(node, "body", None) or getattr(node, "cases", None)
    if not body:
        return node.lineno, node.end_lineno or node.lineno
    first = body[0].pattern if isinstance(body[0], ast.match_case) else body[0]
    return node.lineno, max(node.lineno, first.lineno - 1)


def _children(node: ast.AST) -> Iterator[ast.AST]:
    skipped = {
        "annotation",
        "returns",
        "decorator_list",
        "type_params",
        "ctx",
        "bases",
        "keywords" if isinstance(node, ast.ClassDef) else "",
    }
    for name, value in ast.iter_fields(node):
        if name in skipped:
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not _is_left_alone(child, node):
                yield child


def _is_left_alone(node: ast.AST, parent: ast.AST) -> bool:
    if isinstance(node, ast.Import | ast.ImportFrom):
        return True
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return True  # a docstring
    if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name) and node.targets[0].id == "__all__":
        return True
    return isinstance(parent, ast.ClassDef) and not isinstance(node, ast.FunctionDef)


def _changes(node: ast.AST) -> list[tuple[str, Change]]:
    """Every way in which this node may be changed, always in the same order."""
    makers: dict[type[ast.AST], Callable[[ast.AST], list[tuple[str, Change]]]] = {
        ast.Compare: _of_comparison, ast.BinOp: _of_arithmetic, ast.BoolOp: _of_boolean, ast.UnaryOp: _of_sign, ast.Constant: _of_constant,
        ast.Return: _of_result, ast.If: _of_condition, ast.IfExp: _of_condition, ast.While: _of_condition,
        ast.comprehension: _of_filter, ast.Match: _of_match, ast.Raise: _of_statement, ast.Continue: _of_statement,
        ast.Break: _of_statement, ast.Expr: _of_statement, ast.AugAssign: _of_statement,
    }  # fmt: skip
    maker = makers.get(type(node))
    return maker(node) if maker else []


def _of_comparison(node: ast.AST) -> list[tuple[str, Change]]:
    assert isinstance(node, ast.Compare)  # noqa: S101 — the table above says so
    return [
        ("comparison", _with_operator(place, other))
        for place, operator in enumerate(node.ops)
        for other in _SWAPPED.get(type(operator), ())
    ]


def _with_operator(place: int, other: type[ast.AST]) -> Change:
    def change(node: ast.AST) -> ast.AST:
        node.ops[place] = other()  # type: ignore[attr-defined]
        return node

    return change


def _of_arithmetic(node: ast.AST) -> list[tuple[str, Change]]:
    assert isinstance(node, ast.BinOp)  # noqa: S101
    if isinstance(node.op, ast.BitOr):
        return [("alternative", lambda one: one.left), ("alternative", lambda one: one.right)]
    return [("arithmetic", _as_operator(other)) for other in _SWAPPED.get(type(node.op), ())]


def _as_operator(other: type[ast.AST]) -> Change:
    def change(node: ast.AST) -> ast.AST:
        node.op = other()  # type: ignore[attr-defined]
        return node

    return change


def _of_boolean(node: ast.AST) -> list[tuple[str, Change]]:
    assert isinstance(node, ast.BoolOp)  # noqa: S101
    other = ast.Or if isinstance(node.op, ast.And) else ast.And
    return [("boolean", _as_operator(other)), *(("boolean", _without(place)) for place in range(len(node.values)))]


def _without(place: int) -> Change:
    def change(node: ast.AST) -> ast.AST:
        values = [value for at, value in enumerate(node.values) if at != place]  # type: ignore[attr-defined]
        return values[0] if len(values) == 1 else ast.BoolOp(node.op, values)  # type: ignore[attr-defined]

    return change


def _of_sign(node: ast.AST) -> list[tuple[str, Change]]:
    return [("sign", lambda one: one.operand)]


def _of_constant(node: ast.AST) -> list[tuple[str, Change]]:
    assert isinstance(node, ast.Constant)  # noqa: S101
    value = node.value
    if isinstance(value, bool):
        return [("constant", lambda _: ast.Constant(not value))]
    if isinstance(value, int):
        return [("constant", lambda _: ast.Constant(value + 1)), *([("constant", lambda _: ast.Constant(value - 1))] if value > 0 else [])]
    if isinstance(value, str):
        return [("constant", lambda _: ast.Constant(f"{value}§"))]
    return []


def _of_result(node: ast.AST) -> list[tuple[str, Change]]:
    value = getattr(node, "value", None)
    nothing = value is None or (isinstance(value, ast.Constant) and value.value is None)
    return [] if nothing else [("result", lambda _: ast.Return(ast.Constant(None)))]


def _of_condition(node: ast.AST) -> list[tuple[str, Change]]:
    if isinstance(node, ast.While):
        return [("condition", _with_test(value=False))]
    return [("condition", _with_test(value=True)), ("condition", _with_test(value=False))]


def _with_test(*, value: bool) -> Change:
    def change(node: ast.AST) -> ast.AST:
        node.test = ast.Constant(value)  # type: ignore[attr-defined]
        return node

    return change


def _of_filter(node: ast.AST) -> list[tuple[str, Change]]:
    def change(one: ast.AST) -> ast.AST:
        one.ifs = []  # type: ignore[attr-defined]
        return one

    return [("condition", change)] if getattr(node, "ifs", None) else []


def _of_match(node: ast.AST) -> list[tuple[str, Change]]:
    assert isinstance(node, ast.Match)  # noqa: S101

    def without(place: int) -> Change:
        def change(one: ast.AST) -> ast.AST:
            del one.cases[place]  # type: ignore[attr-defined]
            return one

        return change

    return [("alternative", without(place)) for place in range(len(node.cases))] if len(node.cases) > 1 else []


def _of_statement(node: ast.AST) -> list[tuple[str, Change]]:
    yields = isinstance(node, ast.Expr) and isinstance(node.value, ast.Yield | ast.YieldFrom)
    return [("statement", _never if yields else lambda _: ast.Expr(ast.Constant(None)))]


def _never(node: ast.AST) -> ast.AST:
    """The statement, never reached: a generator without its `yield` would be none."""
    return ast.If(ast.Constant(value=False), [node], [])  # type: ignore[list-item]


def _brief(node: ast.AST) -> str:
    text = ast.unparse(ast.fix_missing_locations(node)) if not isinstance(node, ast.comprehension) else ast.unparse(node)
    return " ".join(text.split())[:100]
