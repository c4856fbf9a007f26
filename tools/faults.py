"""The faults of `core/regimen` as `tools.mutate` tries them: found in its sources, and put into the modules that are already loaded.

A function gets the code of its faulty twin, so that whoever imported it has it too. A constant or a table is exchanged by its name in
every module that holds it.
"""

import ast
import hashlib
import importlib
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

from tools.mutants import Mutant, find_mutants, mutated
from tools.table_mutants import TableMutant, grammar_mutants, table_mutants

__all__ = ["Fault", "all_faults", "clear_caches", "put_in", "users_of"]

SOURCE = Path(__file__).parents[1] / "src"
REGIMEN = SOURCE / "dosewright" / "core" / "regimen"
_TABLES = ("WORDS", "INSTRUCTIONS", "REASONS")
_GRAMMARS = ("SHARED", "GRAMMAR")
_LANGUAGE_CACHES = ("find_language", "_parser")
LANGUAGE_OF = {"english": "en", "english_beside": "en", "french": "fr", "spanish": "es", "german": "de"}


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of one module: in its code, or in the table `table`."""

    module: str
    file: str
    digest: str
    change: Mutant | TableMutant
    table: str = ""

    @property
    def is_table(self) -> bool:
        return bool(self.table)

    @property
    def line(self) -> int:
        return self.change.lines[0] if isinstance(self.change, Mutant) else self.change.line

    @property
    def id(self) -> str:
        where = (self.change.place, self.change.way) if isinstance(self.change, Mutant) else (self.table, self.change.line)
        return hashlib.sha256(repr((self.file, self.digest, where, self.change.kind, self.change.said)).encode()).hexdigest()[:16]

    def described(self) -> dict[str, Any]:
        """For a person, and for the rates by part."""
        part = "grammar" if self.table in _GRAMMARS else "word tables" if self.table else self._room()
        return {"part": part, "file": self.file, "line": self.line, "kind": self.change.kind, "said": self.change.said}

    def _room(self) -> str:
        inner = self.file.removeprefix("core/regimen/")
        return f"code of {inner.partition('/')[0]}/" if "/" in inner else "code of regimen itself"


def all_faults() -> list[Fault]:
    """Every fault, file by file."""
    return [fault for path in sorted(REGIMEN.rglob("*.py")) for fault in _faults_of(path)]


def _faults_of(path: Path) -> Iterator[Fault]:
    source = path.read_text(encoding="utf-8")
    module = ".".join(path.relative_to(SOURCE).with_suffix("").parts)
    file = str(path.relative_to(SOURCE / "dosewright"))
    digest = hashlib.sha256(source.encode()).hexdigest()[:12]
    tables = {*_TABLES, *_GRAMMARS}
    for change in find_mutants(source):
        if change.name not in tables:
            yield Fault(module, file, digest, change)
    loaded = importlib.import_module(module)
    for name in [name for name in (*_TABLES, *_GRAMMARS) if _is_own(source, name)]:
        found = (grammar_mutants if name in _GRAMMARS else table_mutants)(getattr(loaded, name))
        yield from (Fault(module, file, digest, change, name) for change in found)


def _is_own(source: str, name: str) -> bool:
    return f"\n{name} = " in source


def put_in(fault: Fault) -> None:
    """Into the running process, for good. Raises ValueError or SyntaxError where the fault makes no working code."""
    if isinstance(fault.change, TableMutant):
        _exchange(fault.table, getattr(sys.modules[fault.module], fault.table), fault.change.text)
        _build_languages(fault)
        return
    module = sys.modules[fault.module]
    tree = mutated((SOURCE / "dosewright" / fault.file).read_text(encoding="utf-8"), fault.change)
    code = compile(tree, str(module.__file__), "exec")
    if fault.change.function:
        function = _function(module, fault.change.function)
        function.__code__ = _code_of(code, fault.change.function)
        return
    fresh = ModuleType(fault.module)
    fresh.__dict__.update({"__package__": module.__package__, "__file__": module.__file__})
    exec(code, fresh.__dict__)  # noqa: S102 — our own source with one fault in it
    _exchange(fault.change.name, getattr(module, fault.change.name), getattr(fresh, fault.change.name))


def _exchange(name: str, old: object, new: object) -> None:
    for module in [held for key, held in sys.modules.items() if key.startswith("dosewright.")]:
        if vars(module).get(name) is old:
            setattr(module, name, new)


def _build_languages(fault: Fault) -> None:
    """A grammar that cannot be built is no fault that could be shipped."""
    languages = importlib.import_module("dosewright.core.regimen.reading.languages")
    if fault.table not in _GRAMMARS:
        return
    for lang in languages.LANGUAGES:
        try:
            languages.find_language(lang, "")
        except Exception as error:
            raise ValueError("the grammar cannot be built") from error


def _function(module: ModuleType, name: str) -> FunctionType:
    found: Any = module
    for part in name.split("."):
        found = vars(found)[part]
    found = getattr(found, "fget", None) or getattr(found, "__func__", None) or found
    found = getattr(found, "__wrapped__", found)
    if not isinstance(found, FunctionType):
        raise ValueError(f"{name} is no plain function")
    return found


def _code_of(code: CodeType, name: str) -> CodeType:
    """The code of the function with that qualified name within a module's code."""
    for part in name.split("."):
        code = next(one for one in code.co_consts if isinstance(one, CodeType) and one.co_name == part)
    return code


def clear_caches(*, languages: bool = False) -> None:
    """What was worked out before the fault was put in is forgotten; the languages' tables only where the fault may touch them."""
    for key, module in list(sys.modules.items()):
        if key.startswith("dosewright.core"):
            for name, held in list(vars(module).items()):
                if hasattr(held, "cache_clear") and (languages or name not in _LANGUAGE_CACHES):
                    held.cache_clear()


@cache
def users_of(name: str) -> frozenset[tuple[str, str]]:
    """File and function of everything in the room that mentions a constant."""
    found: set[tuple[str, str]] = set()
    for path in REGIMEN.rglob("*.py"):
        file = str(path.relative_to(SOURCE / "dosewright"))
        for outer, node in _outermost(ast.parse(path.read_text(encoding="utf-8"))):
            mentioned = {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}
            mentioned |= {one.attr for one in ast.walk(node) if isinstance(one, ast.Attribute)}
            if name in mentioned and outer:
                found.add((file, outer))
    return frozenset(found)


def _outermost(tree: ast.AST, inside: str = "") -> Iterator[tuple[str, ast.AST]]:
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef):
            yield f"{inside}{node.name}", node
        elif isinstance(node, ast.ClassDef):
            yield from _outermost(node, f"{node.name}.")
