"""Findings that ask for a decision, and the reasons given: nothing goes on while one is unanswered."""

from collections.abc import Iterable, Mapping

from dosewright.core.units.finding import Finding, Severity

__all__ = ["finding_key", "unanswered"]


def finding_key(finding: Finding) -> str:
    """One name for one finding about one thing, the same each time it is found: its code and where it stands."""
    return "|".join((finding.code, *(f"{name}={finding.where[name]}" for name in sorted(finding.where))))


def unanswered(findings: Iterable[Finding], reasons: Mapping[str, str]) -> tuple[Finding, ...]:
    """The `decide` findings for which no reason was written. `reasons`: key → the reason why it goes on all the same."""
    return tuple(
        finding for finding in findings if finding.severity is Severity.DECIDE and not reasons.get(finding_key(finding), "").strip()
    )
