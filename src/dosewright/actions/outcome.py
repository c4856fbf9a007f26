"""What an action led to."""

from dataclasses import dataclass

from dosewright.core.units.finding import Finding

__all__ = ["Outcome", "done", "not_done", "not_used"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """`done`: it happened and is in the ledger. Else nothing was changed, the refusal is in the ledger, and `findings` say why;
    only what `made` names was kept all the same: a file that is of no use.

    `made` holds ids of what came of it: a set's, a file's. A `decide` among the findings of what was not done asks for a reason.
    """

    done: bool
    findings: tuple[Finding, ...] = ()
    made: tuple[str, ...] = ()


def done(findings: tuple[Finding, ...] = (), *made: str) -> Outcome:
    """It happened."""
    return Outcome(done=True, findings=findings, made=made)


def not_done(findings: tuple[Finding, ...]) -> Outcome:
    """It did not, and the findings say why."""
    return Outcome(done=False, findings=findings)


def not_used(findings: tuple[Finding, ...], *made: str) -> Outcome:
    """It was of no use, and the findings say why; what was `made` of it is kept."""
    return Outcome(done=False, findings=findings, made=made)
