"""What the bottles on the shelf do not reach for. Noted in whole units (common practice, no source)."""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from dosewright.core.supply.lots import Stock, allocate
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import OpenCell
from dosewright.core.supply.whole_units import draw_whole_units

__all__ = ["short_of"]


def short_of(still: Mapping[Cell, OpenCell], stocks: Iterable[Stock]) -> Fraction:
    """How many whole units are wanting for the cells that still ask, from lots that last as long as the cards; 0 where nothing is."""
    if not still:
        return Fraction(0)
    need = draw_whole_units(asked.amount for asked in still.values()).whole
    return allocate(stocks, Fraction(need), max(asked.beyond_use for asked in still.values()))[1]
