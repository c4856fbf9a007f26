"""Does a card hold units of a lot that is recalled? Then it goes no further until they are out."""

from collections import Counter
from collections.abc import Set

from dosewright.core.checking.filled import FilledCard
from dosewright.core.supply.account import LotKey
from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_recalled"]


def check_recalled(card: FilledCard, recalled: Set[LotKey]) -> tuple[Finding, ...]:
    """A stop for each recalled lot in the card, with how many placements of it lie there; wherever in the card they lie.

    Source: stock that is recalled is set apart at once and not supplied (EU good distribution practice, 2013/C 343/01, 6.5; from memory).
    """
    units = [units for cavity in card.cavities for units in cavity.placements] + list(card.strays)
    held = Counter((one.medicine, one.lot) for one in units if (one.medicine, one.lot) in recalled)
    return tuple(
        Finding("checking.lot-recalled", Severity.STOP, {"card": card.number}, {"medicine": medicine, "lot": lot, "times": times})
        for (medicine, lot), times in sorted(held.items())
    )
