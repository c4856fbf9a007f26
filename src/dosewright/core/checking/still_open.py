"""What is still to be laid of one medicine, over all cards of a set, in the order in which a hand goes over them."""

from collections.abc import Iterable

from dosewright.core.checking.filled import FilledCard, FilledCavity
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import OpenCell
from dosewright.core.units.ids import MedicineCode

__all__ = ["still_open"]


def still_open(cards: Iterable[FilledCard], medicine: MedicineCode) -> dict[Cell, OpenCell]:
    """The cells that ask for more of the medicine than lies in them: card by card, each in order of row, then column."""
    return {cell: asked for card in cards for cavity in card.cavities for cell, asked in _open_in(card, cavity, medicine).items()}


def _open_in(card: FilledCard, cavity: FilledCavity, medicine: MedicineCode) -> dict[Cell, OpenCell]:
    return {
        Cell(card.number, cavity.row, cavity.column, order): OpenCell(amount - lies, cavity.day, card.beyond_use)
        for order, (wanted, amount) in cavity.wanted.items()
        if wanted == medicine and amount > (lies := cavity.placed(order))
    }
