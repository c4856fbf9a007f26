"""How a card's event writes down which cells it touched and how much: "3.2=0.5=RX-17", row 3, column 2, half a unit, order RX-17."""

from collections.abc import Mapping
from fractions import Fraction

from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.core.units.quantity import format_amount, parse_amount

__all__ = ["format_cells", "parse_cells"]


def format_cells(cells: Mapping[Cell, Fraction]) -> tuple[str, ...]:
    """The cells in order, without the card's number: the event has that."""
    return tuple(f"{cell.row}.{cell.column}={format_amount(amount)}={cell.order}" for cell, amount in sorted(cells.items()))


def parse_cells(card: CardNumber, written: Fact) -> dict[Cell, Fraction]:
    """The cells of an event of that card. Raises ValueError for anything `format_cells` does not write."""
    if not isinstance(written, tuple):
        raise ValueError(f"cells are a list, not {written!r}")
    return dict(_parse_cell(card, text) for text in written)


def _parse_cell(card: CardNumber, text: str) -> tuple[Cell, Fraction]:
    place, amount, order = text.split("=", 2)
    row, column = place.split(".")
    return Cell(card, int(row), int(column), OrderId(order)), parse_amount(amount)
