"""A medicine's record is put right: looks, size, codes, flags, cautions. What it is stays: orders and cards name it by its code."""

from dosewright.actions.doing import doing
from dosewright.actions.mark_resting_on import mark_resting_on
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.correcting import check_something_changed, differences, medicine_touches
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.receiving import check_product
from dosewright.core.custody.rights import Ability
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import MedicineCode
from dosewright.store.cards_on import lock_cards_holding
from dosewright.store.catalogue import find_by_gtin, forget_pack_code, load_medicine, save_medicine
from dosewright.store.ledger import append_entry
from dosewright.store.pharmacy import lock_pharmacy

__all__ = ["correct_medicine", "mark_holding"]


@doing(Ability.CORRECT_MEDICINE, "medicine")
def correct_medicine(code: MedicineCode, on: Occasion, said: Medicine, reason: str) -> Outcome:
    """The record stands so; the ledger keeps what it was and why. Cards that rest on what was changed are out of date (R9).

    A pack's code that is taken from the record names this medicine no more (R7)."""
    lock_pharmacy()
    before = load_medicine(code)
    changed = differences(before, said)
    findings = check_something_changed(changed, reason) + check_product(before, said, find_by_gtin(said.gtin))
    if blocks(findings) or said.code != code:
        return not_done(findings)
    if before.gtin and before.gtin != said.gtin:
        forget_pack_code(before.gtin)
    save_medicine(said)
    append_entry(on, "record corrected", ("medicine", code), {"changes": changed, "why": reason.strip()})
    return done(mark_holding(before, said, on, reason.strip()))


def mark_holding(before: Medicine, after: Medicine, on: Occasion, reason: str) -> tuple[Finding, ...]:
    """Mark the cards that rest on what differs between the two records. A note a card."""
    changed = differences(before, after)
    stages = medicine_touches(changed)
    cards = lock_cards_holding(after.code, stages) if stages else ()
    return mark_resting_on(cards, on, f"the record of {after.label}", changed, reason)
