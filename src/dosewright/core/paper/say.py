"""Findings in plain words, for paper, the command line and the bench: what, where, what would mend it."""

import importlib
from collections.abc import Mapping
from datetime import date, time
from fractions import Fraction
from functools import cache

from dosewright.core.paper.wording.custody import DEEDS
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.quantity import format_amount

__all__ = ["say", "sentences"]

_ROOMS = (
    "interop",
    "regimen",
    "medicines",
    "packing",
    "dosing_times",
    "why",
    "supply",
    "paper",
    "checking",
    "custody",
    "rework",
    "change",
    "rounds",
)


@cache
def sentences() -> Mapping[str, str]:
    """Every code with its sentence; `{name}` stands for a fact or a place of that name."""
    found: dict[str, str] = {}
    for room in _ROOMS:
        found |= importlib.import_module(f"dosewright.core.paper.wording.{room}").SENTENCES
    return found


def say(finding: Finding) -> str:
    """One sentence for a finding. Raises KeyError for a code without a sentence, or a sentence that names a missing fact."""
    values = {name: _in_words(value) for name, value in (*finding.where.items(), *finding.facts.items())}
    values |= {"deed": DEEDS.get(values["deed"], values["deed"])} if "deed" in values else {}
    return sentences()[finding.code].format_map(values)


def _in_words(value: Fact) -> str:
    match value:
        case Fraction():
            return format_amount(value)
        case date():
            return value.strftime("%-d %b %Y")
        case time():
            return value.strftime("%H:%M")
        case tuple():
            return ", ".join(value)
        case None:
            return "none"
    return str(value)
