"""How a card's event writes down which cells it touched and how much: "3.2=0.5=RX-17", row 3, column 2, half a unit, order RX-17."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache

from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.core.units.quantity import format_amount, parse_amount

__all__ = ["format_cell_list", "format_cells", "format_spots", "parse_cell_list", "parse_cells", "parse_spots"]


def format_cells(cells: Mapping[Cell, Fraction]) -> tuple[str, ...]:
    """The cells in order, without the card's number: the event has that."""
    return format_cell_list(sorted(cells.items()))


def format_cell_list(cells: Iterable[tuple[Cell, Fraction]]) -> tuple[str, ...]:
    """The same, in the order given."""
    return tuple(f"{cell.row}.{cell.column}={format_amount(amount)}={cell.order}" for cell, amount in cells)


def parse_cells(card: CardNumber, written: Fact) -> dict[Cell, Fraction]:
    """The cells of an event of that card. Raises ValueError for anything `format_cells` does not write."""
    return dict(parse_cell_list(card, written))


def parse_cell_list(card: CardNumber, written: Fact) -> tuple[tuple[Cell, Fraction], ...]:
    """The same in the order in which they were written; a cell may be among them more than once."""
    if not isinstance(written, tuple):
        raise ValueError(f"cells are a list, not {written!r}")
    return tuple(_parse_cell(card, text) for text in written)


@lru_cache(maxsize=4096)
def _parse_cell(card: CardNumber, text: str) -> tuple[Cell, Fraction]:
    # kept, because all events of a card are read again at each look at it
    place, amount, order = text.split("=", 2)
    row, column = place.split(".")
    return Cell(card, int(row), int(column), OrderId(order)), parse_amount(amount)


def format_spots(spots: Iterable[tuple[int, int]]) -> tuple[str, ...]:
    """Cavities by row and column: "3.2"."""
    return tuple(f"{row}.{column}" for row, column in sorted(spots))


def parse_spots(written: Fact) -> frozenset[tuple[int, int]]:
    """The cavities. Raises ValueError for anything `format_spots` does not write."""
    if not isinstance(written, tuple):
        raise ValueError(f"cavities are a list, not {written!r}")
    parts = (text.split(".") for text in written)
    return frozenset((int(row), int(column)) for row, column in parts)
