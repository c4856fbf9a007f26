"""What became of a card's units when it came back, was withdrawn and destroyed: the movements that it means (R10, R11)."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from fractions import Fraction

from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState
from dosewright.core.rounds.left import part_return
from dosewright.core.supply.account import LotKey
from dosewright.core.supply.movement import Movement, MovementKind
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.ids import CardNumber

__all__ = ["came_back_movements", "destroying_movements", "returning_movements"]


def returning_movements(state: CardState, counted: Mapping[Cell, Fraction]) -> tuple[Movement, ...]:
    """What was counted came back; the rest was given out. Neither ever goes to stock (R10)."""
    parted = part_return(state.placed, counted)
    back = _by_lot(MovementKind.RETURNED, parted.returned, state.number)
    return back + _by_lot(MovementKind.GIVEN, parted.given, state.number)


def came_back_movements(state: CardState, counted: Mapping[Cell, Fraction]) -> tuple[Movement, ...]:
    """What is not in the card any more was given out; the rest stays where it lies, to be put right for the same person."""
    return _by_lot(MovementKind.GIVEN, part_return(state.placed, counted).given, state.number)


def destroying_movements(state: CardState) -> tuple[Movement, ...]:
    """Everything in the card goes to waste: from the returned ones where it came back, else straight out of the card."""
    if state.stage is Stage.RETURNED:
        return _by_lot(MovementKind.DESTROYED, state.placed, None)
    return _by_lot(MovementKind.TAKEN_TO_WASTE, state.placed, state.number)


def _by_lot(kind: MovementKind, placed: Iterable[Placed], card: CardNumber | None) -> tuple[Movement, ...]:
    amounts: dict[LotKey, Fraction] = defaultdict(Fraction)
    for units in placed:
        amounts[units.medicine, units.lot] += units.amount
    return tuple(Movement(kind, medicine, lot, amount, card) for (medicine, lot), amount in sorted(amounts.items()))
