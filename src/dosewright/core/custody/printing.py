"""May paper that was drawn be kept? Only while what it was drawn from has not changed."""

from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_drawn", "check_unchanged"]


def check_unchanged(set_id: int, *, same: bool) -> tuple[Finding, ...]:
    """A stop where plan, cards, pharmacy or homes are no longer what the paper was drawn from (R6)."""
    return () if same else (Finding("custody.changed-meanwhile", Severity.STOP, {"set": set_id}),)


def check_drawn(what: str, *, same: bool, drawn: bool) -> tuple[Finding, ...]:
    """A stop where a sheet on demand was drawn from what is no longer so (R6), or where nothing was there to draw."""
    if not same:
        return (Finding("custody.sheet-changed-meanwhile", Severity.STOP),)
    return () if drawn else (Finding("custody.nothing-to-print", Severity.STOP, facts={"what": what}),)
