"""May paper that was drawn be kept? Only while what it was drawn from has not changed."""

from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_unchanged"]


def check_unchanged(set_id: int, *, same: bool) -> tuple[Finding, ...]:
    """A stop where plan, cards, pharmacy or homes are no longer what the paper was drawn from (R6)."""
    return () if same else (Finding("custody.changed-meanwhile", Severity.STOP, {"set": set_id}),)
