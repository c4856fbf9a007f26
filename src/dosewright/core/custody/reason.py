"""Some deeds need a reason in a person's own words, or the name of whoever takes something over."""

from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_named", "check_reason"]


def check_reason(reason: str) -> tuple[Finding, ...]:
    """A stop where nothing was written."""
    return () if reason.strip() else (Finding("custody.no-reason", Severity.STOP),)


def check_named(name: str) -> tuple[Finding, ...]:
    """A stop where nobody is named who takes something over."""
    return () if name.strip() else (Finding("custody.nobody-named", Severity.STOP),)
