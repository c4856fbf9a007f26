"""How units move. Each kind of movement has its one source and its one destination, so that a way from a returned, given or destroyed
unit back into stock cannot be written down at all (R10)."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from dosewright.core.units.ids import CardNumber, Lot, MedicineCode

__all__ = ["ROUTES", "Batch", "Movement", "MovementKind", "Place"]


class Place(StrEnum):
    """Where a unit can be. Every unit received is in exactly one of the last five (R11)."""

    OUTSIDE = "outside"
    STOCK = "in stock"
    CARD = "in cards"
    GIVEN = "given"
    RETURNED = "returned"
    WASTE = "waste"


class MovementKind(StrEnum):
    """What happened to the units."""

    RECEIVED = "received"
    PLACED = "placed"
    PUT_BACK = "put back"  # from a card that was never sealed and never left the bench
    SPOILED = "spoiled"  # broken, spilled, or the half that was left over
    TAKEN_TO_WASTE = "taken to waste"  # out of a card
    GIVEN = "given"
    RETURNED = "returned"
    DESTROYED = "destroyed"  # what was returned


ROUTES: dict[MovementKind, tuple[Place, Place]] = {
    MovementKind.RECEIVED: (Place.OUTSIDE, Place.STOCK),
    MovementKind.PLACED: (Place.STOCK, Place.CARD),
    MovementKind.PUT_BACK: (Place.CARD, Place.STOCK),
    MovementKind.SPOILED: (Place.STOCK, Place.WASTE),
    MovementKind.TAKEN_TO_WASTE: (Place.CARD, Place.WASTE),
    MovementKind.GIVEN: (Place.CARD, Place.GIVEN),
    MovementKind.RETURNED: (Place.CARD, Place.RETURNED),
    MovementKind.DESTROYED: (Place.RETURNED, Place.WASTE),
}


@dataclass(frozen=True, slots=True, order=True)
class Batch:
    """A lot of one medicine with its expiry: the last day it may be used."""

    expiry: date
    lot: Lot
    medicine: MedicineCode


@dataclass(frozen=True, slots=True)
class Movement:
    """So many units of a lot. `card` names the card where the route begins or ends in one. Raises ValueError for nothing, or less."""

    kind: MovementKind
    medicine: MedicineCode
    lot: Lot
    amount: Fraction
    card: CardNumber | None = None

    def __post_init__(self) -> None:
        if self.amount <= 0:
            raise ValueError("a movement needs an amount above zero")
        if (Place.CARD in ROUTES[self.kind]) is not (self.card is not None):
            raise ValueError(f"{self.kind}: a card is named exactly where one is part of the way")
