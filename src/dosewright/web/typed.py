"""What people type into a form's fields: the names of the fields for counts, and the numbers in them."""

from fractions import Fraction

from dosewright.core.supply.placement import Cell
from dosewright.core.units.quantity import parse_amount

__all__ = ["field_of", "number_typed"]


def field_of(cell: Cell) -> str:
    """The field in which that cell's units are counted."""
    return f"c{cell.row}-{cell.column}-{cell.order}"


def number_typed(text: str) -> Fraction:
    """ "2", "0.5" or "0,5", with blanks around it. Raises ValueError."""
    return parse_amount(text.strip().replace(",", "."))
