"""A placement undone: units out of cells, as an event of its own, not an erasure."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.taking_out import check_taking_out, taking_out_movements
from dosewright.core.supply.movement import Place
from dosewright.core.supply.placement import Cell
from dosewright.core.units.finding import Fact, blocks
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode
from dosewright.store.cards import lock_card, save_event
from dosewright.store.stock import lock_lot, save_movements

__all__ = ["TakenOut", "take_out_medicine"]


@dataclass(frozen=True, slots=True)
class TakenOut:
    """What was taken out of which cells, why, and where it went: back to stock (only whole units, only before any seal) or to waste."""

    medicine: MedicineCode
    lot: Lot
    cells: Mapping[Cell, Fraction]
    to: Place
    reason: str

    def facts(self) -> dict[str, Fact]:
        """As the ledger keeps it."""
        said: dict[str, Fact] = {"medicine": self.medicine, "lot": self.lot, "cells": format_cells(self.cells)}
        return said | {"to": self.to.value, "reason": self.reason}


@doing(Ability.TAKE_OUT_MEDICINE, "card")
def take_out_medicine(number: CardNumber, on: Occasion, what: TakenOut) -> Outcome:
    """The units are out of the card; the cells ask for them again (R10, R11)."""
    card = lock_card(number)
    lock_lot(what.medicine, what.lot)
    findings = check_follows(card.state, Deed.TAKEN_OUT) + check_taking_out(card.state, what.lot, what.cells, what.to, what.reason)
    if blocks(findings):
        return not_done(findings)
    _, entry = save_event(card, Deed.TAKEN_OUT, on, what.facts())
    save_movements(taking_out_movements(number, what.medicine, what.lot, what.cells, what.to), entry)
    return done(findings)
