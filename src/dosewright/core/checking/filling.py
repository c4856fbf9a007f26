"""Does every cavity hold what the plan puts there: no more, no less, nothing else?"""

from collections.abc import Iterator
from fractions import Fraction

from dosewright.core.checking.filled import FilledCard, FilledCavity
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["check_filling"]


def check_filling(card: FilledCard) -> tuple[Finding, ...]:
    """Find every cell that differs from the plan, in cavity order: too little, too much, another medicine, or in no cavity of the plan."""
    strays = tuple(_stray(card, units.cell.row, units.cell.column, units.medicine) for units in card.strays)
    return tuple(finding for cavity in card.cavities for finding in _differences(cavity)) + strays


def _differences(cavity: FilledCavity) -> Iterator[Finding]:
    for order, (medicine, amount) in cavity.wanted.items():
        found = cavity.placed(order)
        if found != amount:
            facts: dict[str, Fact] = {"medicine": medicine, "expected": amount, "found": found}
            yield Finding("checking.cell-differs", Severity.STOP, {**cavity.address, "order": order}, facts)
    for units in cavity.placements:
        wanted, _ = cavity.wanted.get(units.cell.order, (None, Fraction(0)))
        if wanted != units.medicine:
            yield Finding("checking.not-in-plan", Severity.STOP, cavity.address, {"medicine": units.medicine})


def _stray(card: FilledCard, row: int, column: int, medicine: str) -> Finding:
    return Finding("checking.no-such-cavity", Severity.STOP, {"card": card.number, "row": row, "column": column}, {"medicine": medicine})
