"""The checker is not the filler (R8); where a profile lets one person work alone, a reason and a pause stand on record."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from dosewright.core.units.finding import Finding, Severity

__all__ = ["PAUSE", "Alone", "check_same_hands"]

PAUSE = timedelta(minutes=30)  # our default, no source: long enough to have done something else


@dataclass(frozen=True, slots=True)
class Alone:
    """Somebody who filled means to check alone: whether the profile allows it, why, when a hand was last on the card, and now."""

    allowed: bool
    reason: str
    last_touched: datetime
    now: datetime


def check_same_hands(fillers: frozenset[str], checker: str, alone: Alone) -> tuple[Finding, ...]:
    """Nothing where the checker did not fill. Else a stop, unless the profile allows it, a reason is given and `PAUSE` has passed.

    Source: a different person packs and checks (Oregon and Maryland board rules); a single-person pharmacy's self-check is flagged.
    """
    return tuple(_check(alone)) if checker in fillers else ()


def _check(alone: Alone) -> Iterator[Finding]:
    if not alone.allowed:
        yield Finding("checking.same-hands", Severity.STOP)
        return
    if not alone.reason.strip():
        yield Finding("checking.alone-needs-reason", Severity.STOP)
    if alone.now - alone.last_touched < PAUSE:
        yield Finding("checking.alone-needs-pause", Severity.STOP, facts={"minutes": int(PAUSE.total_seconds() // 60)})
    yield Finding("checking.alone", Severity.NOTE, facts={"reason": alone.reason})
