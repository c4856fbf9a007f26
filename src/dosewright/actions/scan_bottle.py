"""A bottle is scanned for a card: is it the one that the card asks for now? Nothing is placed by it."""

from dataclasses import dataclass
from datetime import date

from dosewright.actions.doing import doing
from dosewright.actions.note_near_miss import note_caught_by_scan
from dosewright.actions.outcome import Outcome, done, not_used
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.supply.lots import Stock
from dosewright.core.supply.placing import check_placing
from dosewright.core.supply.scanning import Proof, check_proof
from dosewright.core.units.finding import Finding, Severity, blocks
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode
from dosewright.store.cards_at_hand import CardAtHand, load_card_at_hand
from dosewright.store.stock import find_lot

__all__ = ["Bottle", "may_use", "scan_bottle"]

_NOT_YET = frozenset({"supply.no-lot", "supply.not-enough"})  # the lot may be typed next; a lot may give a part of what is asked


@dataclass(frozen=True, slots=True)
class Bottle:
    """What is in the hand, and what the card asks for. `lot` is "" and `expiry` None while they are not known."""

    wanted: MedicineCode
    proof: Proof
    lot: Lot
    expiry: date | None


def may_use(card: CardAtHand, bottle: Bottle) -> tuple[Finding, ...]:
    """All against filling this card from this bottle: the card's stage, another product (R7), a lot not received or too short (R5)."""
    findings = check_follows(card.state, Deed.PLACED)
    findings += check_proof(bottle.proof, bottle.wanted, bottle.lot, bottle.expiry or date.max)
    if not blocks(findings) and bottle.lot and bottle.expiry:
        findings += _check_lot(card, bottle, bottle.expiry)
    return tuple(finding for finding in findings if finding.code not in _NOT_YET)


def _check_lot(card: CardAtHand, bottle: Bottle, expiry: date) -> tuple[Finding, ...]:
    stock = find_lot(bottle.wanted, bottle.lot)
    if stock is None:
        return (Finding("supply.unknown-lot", Severity.STOP, facts={"medicine": bottle.wanted, "lot": bottle.lot}),)
    return _check_cells(card, bottle, stock, expiry)


def _check_cells(card: CardAtHand, bottle: Bottle, stock: Stock, expiry: date) -> tuple[Finding, ...]:
    still = still_open([card.filled], bottle.wanted)
    return check_placing({cell: asked.amount for cell, asked in still.items()}, still, stock, expiry)


@doing(Ability.PLACE_MEDICINE, "card")
def scan_bottle(number: CardNumber, on: Occasion, bottle: Bottle) -> Outcome:
    """The bottle may be used. A wrong one is refused, and that it was tried is on record; what no cavity asks for is a near miss too."""
    card = load_card_at_hand(number)
    findings = may_use(card, bottle)
    return not_used(findings, *note_caught_by_scan(card, on, findings)) if blocks(findings) else done(findings)
