"""The checker's own count of each cavity against what the orders put there. The filler's ticks play no part.

Source: the checker forms a judgement of their own, without cues from the packer (published studies of double checking).
"""

from collections.abc import Collection, Iterator, Mapping
from fractions import Fraction

from dosewright.core.checking.check_plan import Spot
from dosewright.core.checking.filled import FilledCard
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["Counts", "check_counts"]

Counts = Mapping[Spot, Fraction]  # (row, column) → units counted, halves as 1/2


def check_counts(card: FilledCard, counts: Counts, demanded: Collection[Spot] | None = None) -> tuple[Finding, ...]:
    """Find every cavity that was not counted or was counted otherwise than planned, and counts of cavities that should be empty.
    `demanded`: those that must be counted, where the check plan leaves some out; else all. What was counted besides is held against
    the orders too."""
    return tuple(_in_plan(card, counts, demanded)) + tuple(_beside_plan(card, counts))


def _in_plan(card: FilledCard, counts: Counts, demanded: Collection[Spot] | None) -> Iterator[Finding]:
    for cavity in card.cavities:
        spot = (cavity.row, cavity.column)
        counted = counts.get(spot)
        if counted is None and demanded is not None and spot not in demanded:
            continue
        if counted is None:
            yield Finding("checking.not-counted", Severity.STOP, cavity.address)
        elif counted != cavity.asked:
            yield Finding("checking.count-differs", Severity.STOP, cavity.address, {"expected": cavity.asked, "counted": counted})


def _beside_plan(card: FilledCard, counts: Counts) -> Iterator[Finding]:
    known = {(cavity.row, cavity.column) for cavity in card.cavities}
    for (row, column), counted in sorted(counts.items()):
        if (row, column) not in known and counted:
            where: dict[str, Fact] = {"card": card.number, "row": row, "column": column}
            yield Finding("checking.should-be-empty", Severity.STOP, where, {"counted": counted})
