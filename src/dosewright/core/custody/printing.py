"""May paper that was drawn be kept? Only while what it was drawn from has not changed, and a further copy only with a reason."""

from dosewright.core.units.finding import Finding, Severity

__all__ = ["LONGEST_REASON", "check_drawn", "check_further_copy", "check_unchanged"]

LONGEST_REASON = 80  # characters of why a further copy is made: it is printed on every sheet


def check_unchanged(set_id: int, *, same: bool) -> tuple[Finding, ...]:
    """A stop where plan, cards, pharmacy or homes are no longer what the paper was drawn from (R6)."""
    return () if same else (Finding("custody.changed-meanwhile", Severity.STOP, {"set": set_id}),)


def check_further_copy(before: int, reason: str) -> tuple[Finding, ...]:
    """A stop where paper of which so many copies were printed `before` gets no reason for one more, or one too long for a sheet."""
    if before and not reason.strip():
        return (Finding("custody.copy-without-reason", Severity.STOP, facts={"copy": before + 1}),)
    if before and len(reason) > LONGEST_REASON:
        return (Finding("custody.copy-reason-too-long", Severity.STOP, facts={"found": len(reason), "most": LONGEST_REASON}),)
    return ()


def check_drawn(what: str, *, same: bool, drawn: bool) -> tuple[Finding, ...]:
    """A stop where a sheet on demand was drawn from what is no longer so (R6), or where nothing was there to draw."""
    if not same:
        return (Finding("custody.sheet-changed-meanwhile", Severity.STOP),)
    return () if drawn else (Finding("custody.nothing-to-print", Severity.STOP, facts={"what": what}),)
