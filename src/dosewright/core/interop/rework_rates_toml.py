"""Rates file → `Rates`. In: TOML text. Out: every figure, exact, none below zero; or one sentence that names line and field.

Each line has a value, its source and date, and how it is known. Values are used; the rest is for whoever reads and edits the file, and must
be there.
"""

from dataclasses import fields
from fractions import Fraction
from typing import Any

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.rework.rates import Errors, Hours, Minutes, Rates, Weights

__all__ = ["parse_rates"]

_EVIDENCE = ("retrieved", "computed", "assumption", "measured here")


def parse_rates(text: str) -> Rates:
    """The rates that the text gives. Raises TomlError: unknown or missing key, wrong kind, below zero, a line without its source."""
    file = parse_toml(text)
    made = Rates(
        minutes=Minutes(**_figures(file.table("minutes"), Minutes)),
        errors=Errors(**_figures(file.table("errors"), Errors)),
        hours=Hours(**_figures(file.table("hours"), Hours)),
        weights=Weights(**_figures(file.table("weights"), Weights)),
    )
    file.require_all_known()
    return made


def _figures(table: TomlTable, kind: Any) -> dict[str, Fraction]:
    found = {field.name: _figure(table.table(field.name)) for field in fields(kind)}
    table.require_all_known()
    return found


def _figure(line: TomlTable) -> Fraction:
    value = line.amount_or_zero("value")
    line.text("source")
    line.text("dated")
    line.choice("evidence", *_EVIDENCE)
    line.require_all_known()
    return value
