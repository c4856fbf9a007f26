"""What lies where: a cell of a card (one order's place in one cavity) and the units put into it, with their lot and expiry (R7)."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, OrderId

__all__ = ["Cell", "Placed"]


@dataclass(frozen=True, slots=True, order=True)
class Cell:
    """One order's place in one cavity; `row` and `column` count from 1."""

    card: CardNumber
    row: int
    column: int
    order: OrderId


@dataclass(frozen=True, slots=True)
class Placed:
    """So many units of a lot in one cell. `expiry` is the last day they may be taken. Raises ValueError for nothing placed, or no lot."""

    cell: Cell
    medicine: MedicineCode
    lot: Lot
    expiry: date
    amount: Fraction

    def __post_init__(self) -> None:
        if self.amount <= 0:
            raise ValueError("a placement needs an amount above zero")
        if not self.lot:
            raise ValueError("a placement needs a lot")
