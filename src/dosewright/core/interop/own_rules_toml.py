"""The pharmacy's own rules ⇄ TOML text. A table a rule; who changed it, when and why stands with it. The same rules give the same text."""

import json
from collections.abc import Iterable

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.medicines.own_rules import OwnRule
from dosewright.core.medicines.rule_codes import known_code
from dosewright.core.units.ids import MedicineCode

__all__ = ["format_own_rules", "parse_own_rules"]

_LISTS = ("codes", "names", "forms", "medicines")
_TEXTS = ("reason", "source", "dated")


def format_own_rules(rules: Iterable[OwnRule]) -> str:
    """The text; "" where there is none."""
    return "\n".join(_format(rule) for rule in sorted(rules, key=lambda rule: rule.id))


def _format(rule: OwnRule) -> str:
    lines = ["[[rule]]", f"id = {_text(rule.id)}"]
    lines += [f"{name} = [{', '.join(map(_text, getattr(rule, name)))}]" for name in _LISTS if getattr(rule, name)]
    lines += [f"{name} = {_text(getattr(rule, name))}" for name in _TEXTS]
    lines += [f"weekly = {str(rule.weekly).lower()}", f"asks = {str(rule.asks).lower()}", f"change = {rule.change}"]
    lines += [f"changed_by = {_text(rule.by)}", f"changed_on = {rule.on.isoformat()}", f"changed_why = {_text(rule.why)}"]
    return "\n".join(lines) + "\n"


def _text(value: str) -> str:
    """A TOML basic string is a JSON string, but for the delete character."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def parse_own_rules(text: str) -> tuple[OwnRule, ...]:
    """The rules of the text. Raises TomlError: unknown or missing key, wrong kind, unknown code, an id that comes twice."""
    file = parse_toml(text)
    tables = file.tables("rule")
    file.require_all_known()
    found: dict[str, OwnRule] = {}
    for table in tables:
        rule = _read(table)
        if rule.id in found:
            raise table.fault("id", f"must be its own; {rule.id} stands twice")
        found[rule.id] = rule
    return tuple(found.values())


def _read(table: TomlTable) -> OwnRule:
    codes = table.texts("codes")
    if wrong := next((code for code in codes if not known_code(code)), None):
        raise table.fault("codes", f"must be of X, XD, S, H, W, ok or T with days such as T30, not {wrong!r}")
    lists = {name: table.texts(name) if table.has(name) else () for name in ("names", "forms")}
    products = table.texts("medicines") if table.has("medicines") else ()
    made = OwnRule(
        id=table.text("id"),
        codes=codes,
        reason=table.text("reason"),
        source=table.text("source"),
        dated=table.text("dated"),
        names=lists["names"],
        forms=lists["forms"],
        medicines=tuple(map(MedicineCode, products)),
        weekly=table.flag("weekly") if table.has("weekly") else False,
        asks=table.flag("asks") if table.has("asks") else True,
        change=table.whole("change"),
        by=table.text("changed_by"),
        on=table.day("changed_on"),
        why=table.text("changed_why"),
    )
    table.require_all_known()
    return made
