"""Findings that ask for a decision, and the reasons given: nothing goes on while one is unanswered."""

import hashlib
import json
from collections.abc import Iterable, Mapping

from dosewright.core.units.finding import Finding, Severity

__all__ = ["finding_key", "place_key", "unanswered"]

_ASKED = ("rule", "dated", "reason", "medicine", "other")
_MARK = 12  # characters: enough to tell the questions of one plan apart


def finding_key(finding: Finding) -> str:
    """One name for one finding about one thing, the same each time it is found: its code and where it stands; where a rule asks, a mark of
    the rule in this very wording and of the medicines besides. A reason given under an earlier wording does not count for this one."""
    if "rule" not in finding.facts or "dated" not in finding.facts:
        return place_key(finding)
    asked = [f"{name}={finding.facts[name]}" for name in _ASKED if name in finding.facts]
    return f"{place_key(finding)}|rule={hashlib.sha256(json.dumps(asked).encode()).hexdigest()[:_MARK]}"


def place_key(finding: Finding) -> str:
    """Its code and where it stands alone: so reasons were kept before rules were part of their names."""
    return "|".join((finding.code, *(f"{name}={finding.where[name]}" for name in sorted(finding.where))))


def unanswered(findings: Iterable[Finding], reasons: Mapping[str, str]) -> tuple[Finding, ...]:
    """The `decide` findings for which no reason was written. `reasons`: key → the reason why it goes on all the same."""
    return tuple(
        finding for finding in findings if finding.severity is Severity.DECIDE and not reasons.get(finding_key(finding), "").strip()
    )
