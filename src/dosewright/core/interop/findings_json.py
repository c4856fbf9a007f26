"""A finding in JSON, as every command writes it: code, severity, where, facts, and the sentence."""

from collections.abc import Mapping
from datetime import date, time
from fractions import Fraction

from dosewright.core.interop.json_text import Writable
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.quantity import format_amount

__all__ = ["facts_in_json", "finding_in_json"]


def finding_in_json(finding: Finding) -> dict[str, Writable]:
    """Keys in a fixed order; amounts as exact text, dates and times in ISO form."""
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "where": facts_in_json(finding.where),
        "facts": facts_in_json(finding.facts),
        "message": say(finding),
    }


def facts_in_json(facts: Mapping[str, Fact]) -> dict[str, Writable]:
    """Amounts as exact text, dates and times in ISO form."""
    return {name: _fact(value) for name, value in facts.items()}


def _fact(value: Fact) -> Writable:
    match value:
        case Fraction():
            return format_amount(value)
        case date():
            return value.isoformat()
        case time():
            return value.strftime("%H:%M")
        case tuple():
            return list(value)
    return value
