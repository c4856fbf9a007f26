"""Counts are of the card as it lay before the checker: what happened to it since makes them counts of another card.

A checker counts, the phone rings, somebody else sends the card back, it is filled anew: the old counts would accept what nobody counted.
"""

from dosewright.core.custody.state import CardState
from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_unmoved"]


def check_unmoved(state: CardState, seen: int | None) -> tuple[Finding, ...]:
    """A stop where the card has more events than when the counting began (`seen`; None: it is counted and said at one go)."""
    if seen is None or seen == state.events:
        return ()
    return (Finding("custody.moved-on", Severity.STOP, {"card": state.number}),)
