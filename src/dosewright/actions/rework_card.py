"""At the bench: what has to leave a card that is put right leaves it, to waste; and the labels that are void are destroyed."""

from dataclasses import dataclass

from dosewright.actions.change_begun import change_begun
from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reworking import check_destination, to_take_out
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.taking_out import taking_out_movements
from dosewright.core.supply.movement import Place
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.core.units.ids import CardNumber, Gtin, MedicineCode
from dosewright.store.cards import lock_card, save_event
from dosewright.store.changes import StoredChange, find_open_change
from dosewright.store.ledger import load_card_events
from dosewright.store.made_papers import load_made_lately
from dosewright.store.stock import lock_lot, save_movements

__all__ = ["Removed", "relabel_card", "remove_units"]


@dataclass(frozen=True, slots=True)
class Removed:
    """Which medicine was taken out, and where it went: the code that was scanned there (`gtin`, where it is a bottle's), or why none
    was."""

    medicine: MedicineCode
    scanned: str
    gtin: Gtin | None = None
    reason: str = ""


@doing(Ability.REWORK_CARD, "card")
def remove_units(number: CardNumber, on: Occasion, what: Removed) -> Outcome:
    """Everything of the medicine that is not to be in the card any more is out of it and waste, lot by lot (R10, R11)."""
    card = lock_card(number)
    leaving = {key: cells for key, cells in to_take_out(card.filled, card.state).items() if key[0] == what.medicine}
    findings = check_follows(card.state, Deed.TAKEN_OUT) + check_destination(what.scanned, what.gtin, what.reason)
    if not leaving:
        findings += (Finding("change.nothing-to-take-out", Severity.STOP, {"card": number}, {"medicine": what.medicine}),)
    if blocks(findings):
        return not_done(findings)
    for medicine, lot in leaving:
        lock_lot(medicine, lot)
    for (medicine, lot), cells in leaving.items():
        facts: dict[str, Fact] = {"medicine": medicine, "lot": lot, "cells": format_cells(cells), "to": Place.WASTE.value}
        why = what.reason or "the orders changed"
        card, entry = save_event(card, Deed.TAKEN_OUT, on, {**facts, "reason": why, "scanned": what.scanned})
        save_movements(taking_out_movements(number, medicine, lot, cells, Place.WASTE), entry)
    change_begun(card.person.id, on)
    return done(findings)


@doing(Ability.REWORK_CARD, "card")
def relabel_card(number: CardNumber, on: Occasion) -> Outcome:
    """The old header and the labels of what was opened are void and destroyed; the new ones are on."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.RELABELLED)
    if not card.state.old_labels:
        findings += (Finding("change.labels-are-right", Severity.STOP, {"card": number}),)
    change = find_open_change(card.person.id)
    if change is not None and not _printed(change, number):
        findings += (Finding("change.no-labels", Severity.STOP, {"change": change.id}),)
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.RELABELLED, on, {"cavities": len(card.state.disturbed)})
    change_begun(card.person.id, on)
    return done(findings)


def _printed(change: StoredChange, number: CardNumber) -> bool:
    """Whether new labels were made since the card was to be put right."""
    asked = max((event.at for event in load_card_events(number) if event.deed in {Deed.REWORKED, Deed.DECIDED}), default=None)
    made = load_made_lately(f"change {change.id}")
    return any(sheet.name.kind == "labels" and asked is not None and sheet.made_at >= asked for sheet in made)
