"""Taking units out of a card on the bench: where they may go (R10), and the movements of stock that it means (R11)."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from dosewright.core.custody.state import CardState
from dosewright.core.supply.movement import Movement, MovementKind, Place
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode

__all__ = ["check_taking_out", "taking_out_movements"]


def check_taking_out(state: CardState, lot: Lot, cells: Mapping[Cell, Fraction], to: Place, reason: str) -> tuple[Finding, ...]:
    """Find cells where that much of the lot does not lie, no reason, and a way back to stock that is shut: for part units, and for
    everything from a card that was sealed once or has left the pharmacy (R10)."""
    return tuple(_check(state, lot, cells, to, reason))


def _check(state: CardState, lot: Lot, cells: Mapping[Cell, Fraction], to: Place, reason: str) -> Iterator[Finding]:
    if not reason.strip():
        yield Finding("custody.no-reason", Severity.STOP)
    if to not in {Place.STOCK, Place.WASTE}:
        yield Finding(
            "custody.unknown-choice", Severity.STOP, facts={"choice": to.value, "choices": (Place.STOCK.value, Place.WASTE.value)}
        )
    if to is Place.STOCK and (state.sealed_once or state.left):
        yield Finding("supply.to-waste-only", Severity.STOP, {"card": state.number})
    if to is Place.STOCK and any(amount.denominator != 1 for amount in cells.values()):
        yield Finding("supply.part-to-waste", Severity.STOP, {"card": state.number})
    for cell, amount in sorted(cells.items()):
        held = [units for units in state.placed if units.cell == cell and units.lot == lot]
        if not 0 < amount <= sum((units.amount for units in held), Fraction(0)):
            where: dict[str, Fact] = {"card": cell.card, "row": cell.row, "column": cell.column, "order": cell.order}
            yield Finding(
                "supply.not-placed", Severity.STOP, where, {"lot": lot, "medicine": held[0].medicine if held else "that medicine"}
            )


def taking_out_movements(
    card: CardNumber, medicine: MedicineCode, lot: Lot, cells: Mapping[Cell, Fraction], to: Place
) -> tuple[Movement, ...]:
    """One movement: put back before any seal, else to waste."""
    kind = MovementKind.PUT_BACK if to is Place.STOCK else MovementKind.TAKEN_TO_WASTE
    return (Movement(kind, medicine, lot, sum(cells.values(), Fraction(0)), card),)
