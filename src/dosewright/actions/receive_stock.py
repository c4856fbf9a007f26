"""Units come in: so many of a lot."""

from fractions import Fraction

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.supply.movement import Batch, Movement, MovementKind
from dosewright.core.supply.receiving import check_lot_in_use, check_receipt
from dosewright.core.supply.scanning import Proof, check_proof
from dosewright.core.units.finding import Fact, blocks
from dosewright.core.units.ids import MedicineCode
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import identify, load_medicine
from dosewright.store.ledger import append_entry
from dosewright.store.stock import lock_lot, save_lot, save_movements

__all__ = ["receive_stock"]


@doing(Ability.RECEIVE_STOCK, "medicine")
def receive_stock(medicine: MedicineCode, on: Occasion, batch: Batch, amount: Fraction, proof: Proof) -> Outcome:
    """`amount` units of the lot are in stock now. `proof` is the scan of the bottle, or the reason why there is none."""
    load_medicine(medicine)
    save_lot(batch)
    known = lock_lot(medicine, batch.lot)
    findings = check_proof(identify(proof), medicine, batch.lot, batch.expiry) + check_receipt(batch, known.batch, amount, wall_day(on.at))
    findings += check_lot_in_use(known)
    if blocks(findings):
        return not_done(findings)
    facts: dict[str, Fact] = {"lot": batch.lot, "expiry": batch.expiry, "amount": amount, "gtin": proof.gtin, "reason": proof.reason}
    entry = append_entry(on, "stock received", ("medicine", medicine), facts)
    save_movements([Movement(MovementKind.RECEIVED, medicine, batch.lot, amount)], entry)
    return done(findings)
