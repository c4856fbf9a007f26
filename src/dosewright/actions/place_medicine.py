"""One medicine laid over the fill map, across the cards of a set, out of one lot. Two lots are two placements."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import check_placing, placing_movements
from dosewright.core.supply.scanning import Proof, check_proof
from dosewright.core.units.finding import Fact, blocks
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.cards import save_event
from dosewright.store.cards_at_hand import lock_cards_of
from dosewright.store.catalogue import identify
from dosewright.store.ledger import append_entry
from dosewright.store.owings import settle_owing
from dosewright.store.stock import lock_lot, save_movements

__all__ = ["Placement", "place_medicine"]


@dataclass(frozen=True, slots=True)
class Placement:
    """What somebody laid: which medicine of which lot, into which cells (None: all that are still open), and how they know it (R7)."""

    medicine: MedicineCode
    lot: Lot
    expiry: date
    proof: Proof
    cells: Mapping[Cell, Fraction] | None = None

    def facts(self, cells: Mapping[Cell, Fraction]) -> dict[str, Fact]:
        """As the ledger keeps it."""
        said: dict[str, Fact] = {"medicine": self.medicine, "lot": self.lot, "expiry": self.expiry, "cells": format_cells(cells)}
        return said | {"gtin": self.proof.gtin, "reason": self.proof.reason}


@doing(Ability.PLACE_MEDICINE, "set")
def place_medicine(set_id: int, on: Occasion, what: Placement) -> Outcome:
    """The units are in the cells now, with lot, expiry, who and when; stock went down by the whole units they took (R5, R7, R11)."""
    found, proof = lock_cards_of(set_id), identify(what.proof)
    still = still_open((card.filled for card in found if card.on_bench), what.medicine)
    cells = {cell: asked.amount for cell, asked in still.items()} if what.cells is None else dict(what.cells)
    touched = [card for card in found if any(cell.card == card.number for cell in cells)]
    follows = tuple(finding for card in touched for finding in check_follows(card.state, Deed.PLACED))
    stock = lock_lot(what.medicine, what.lot)  # as late as can be: many stations draw on one lot
    findings = check_proof(proof, what.medicine, what.lot, what.expiry) + check_placing(cells, still, stock, what.expiry) + follows
    if blocks(findings):
        return not_done(findings)
    entry = 0
    for card in touched:
        _, entry = save_event(card, Deed.PLACED, on, what.facts({cell: cells[cell] for cell in cells if cell.card == card.number}))
    save_movements(placing_movements(cells, stock.batch), entry)
    if cells == {cell: asked.amount for cell, asked in still.items()} and settle_owing(set_id, what.medicine, on):
        append_entry(on, "owing settled", ("set", str(set_id)), {"medicine": what.medicine})
    return done(findings)
