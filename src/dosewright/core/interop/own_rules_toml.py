"""The pharmacy's own rules ⇄ TOML text: [[rule]] by form, flag or product, [[apart]] and [[spacing]] about two medicines.

A table a rule; who changed it, when and why stands with it. The same rules give the same text.
"""

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Protocol, TypedDict, TypeVar

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.medicines.own_pairs import FARTHEST, OwnPair, PairKind
from dosewright.core.medicines.own_rules import OwnRule
from dosewright.core.medicines.rule_codes import known_code
from dosewright.core.units.ids import MedicineCode

__all__ = ["OwnBook", "format_own_rules", "parse_own_rules"]

_LISTS = ("codes", "names", "forms", "medicines")
_TEXTS = ("reason", "source", "dated")


@dataclass(frozen=True, slots=True)
class OwnBook:
    """All that the pharmacy has of its own: rules by form, flag and product; rules about two medicines."""

    rules: tuple[OwnRule, ...] = ()
    pairs: tuple[OwnPair, ...] = ()


class _Changed(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def change(self) -> int: ...
    @property
    def by(self) -> str: ...
    @property
    def on(self) -> date: ...
    @property
    def why(self) -> str: ...


_Own = TypeVar("_Own", bound=_Changed)


def format_own_rules(book: OwnBook) -> str:
    """The text; "" where there is none."""
    rules = (_format(rule) for rule in sorted(book.rules, key=lambda rule: rule.id))
    pairs = (_format_pair(pair) for pair in sorted(book.pairs, key=lambda pair: pair.id))
    return "\n".join((*rules, *pairs))


def _format(rule: OwnRule) -> str:
    lines = ["[[rule]]", f"id = {_text(rule.id)}"]
    lines += [_listed(name, getattr(rule, name)) for name in _LISTS if getattr(rule, name)]
    lines += [f"{name} = {_text(getattr(rule, name))}" for name in _TEXTS]
    lines += [_flag("weekly", rule), _flag("asks", rule), *_changed(rule)]
    return "\n".join(lines) + "\n"


def _format_pair(pair: OwnPair) -> str:
    lines = [f"[[{pair.kind.value}]]", f"id = {_text(pair.id)}", _listed("one", pair.one), _listed("other", pair.other)]
    if pair.kind is PairKind.SPACING:
        lines += [f"before_minutes = {pair.before}", f"after_minutes = {pair.after}"]
    lines += [f"{name} = {_text(getattr(pair, name))}" for name in _TEXTS]
    lines += [_flag("in_force", pair), *_changed(pair)]
    return "\n".join(lines) + "\n"


def _changed(rule: _Changed) -> list[str]:
    who = [f"changed_by = {_text(rule.by)}", f"changed_on = {rule.on.isoformat()}", f"changed_why = {_text(rule.why)}"]
    return [f"change = {rule.change}", *who]


def _listed(name: str, values: Iterable[str]) -> str:
    return f"{name} = [{', '.join(map(_text, values))}]"


def _flag(name: str, rule: _Changed) -> str:
    return f"{name} = {str(getattr(rule, name)).lower()}"


def _text(value: str) -> str:
    """A TOML basic string is a JSON string, but for the delete character."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def parse_own_rules(text: str) -> OwnBook:
    """The rules of the text. Raises TomlError: unknown or missing key, wrong kind, unknown code, an id that comes twice."""
    file = parse_toml(text)
    rules, pairs = file.tables("rule"), {kind: file.tables(kind.value) for kind in PairKind}
    file.require_all_known()
    seen: set[str] = set()
    read_rules = _each(rules, _read, seen)
    return OwnBook(read_rules, tuple(pair for kind in PairKind for pair in _each(pairs[kind], _PAIRS[kind], seen)))


def _each(tables: Iterable[TomlTable], read: Callable[[TomlTable], _Own], seen: set[str]) -> tuple[_Own, ...]:
    """Each table read; `seen` are the ids so far, of all kinds of rules."""
    found = []
    for table in tables:
        rule = read(table)
        if rule.id in seen:
            raise table.fault("id", f"must be its own; {rule.id} stands twice")
        seen.add(rule.id)
        found.append(rule)
    return tuple(found)


def _read(table: TomlTable) -> OwnRule:
    codes = table.texts("codes")
    if wrong := next((code for code in codes if not known_code(code)), None):
        raise table.fault("codes", f"must be of X, XD, S, H, W, ok or T with days such as T30, not {wrong!r}")
    lists = {name: table.texts(name) if table.has(name) else () for name in ("names", "forms")}
    products = table.texts("medicines") if table.has("medicines") else ()
    made = OwnRule(
        id=table.text("id"),
        codes=codes,
        names=lists["names"],
        forms=lists["forms"],
        medicines=tuple(map(MedicineCode, products)),
        weekly=table.flag("weekly") if table.has("weekly") else False,
        asks=table.flag("asks") if table.has("asks") else True,
        **_recorded(table),
    )
    table.require_all_known()
    return made


class _Recorded(TypedDict):
    reason: str
    source: str
    dated: str
    change: int
    by: str
    on: date
    why: str


def _recorded(table: TomlTable) -> _Recorded:
    """What a rule of either kind says of itself: its grounds, and who changed it, when and why."""
    return _Recorded(
        reason=table.text("reason"),
        source=table.text("source"),
        dated=table.text("dated"),
        change=table.whole("change"),
        by=table.text("changed_by"),
        on=table.day("changed_on"),
        why=table.text("changed_why"),
    )


def _read_apart(table: TomlTable) -> OwnPair:
    return _read_pair(table, PairKind.APART, 0, 0)


def _read_spacing(table: TomlTable) -> OwnPair:
    before, after = (table.whole(key) for key in ("before_minutes", "after_minutes"))
    if not 0 < max(before, after) <= FARTHEST:
        raise table.fault("before_minutes", f"and after_minutes must be {FARTHEST} or fewer, and not both be 0")
    return _read_pair(table, PairKind.SPACING, before, after)


def _read_pair(table: TomlTable, kind: PairKind, before: int, after: int) -> OwnPair:
    made = OwnPair(
        id=table.text("id"),
        kind=kind,
        one=table.texts("one"),
        other=table.texts_or_none("other"),
        before=before,
        after=after,
        in_force=table.flag("in_force"),
        **_recorded(table),
    )
    table.require_all_known()
    return made


_PAIRS = {PairKind.APART: _read_apart, PairKind.SPACING: _read_spacing}
