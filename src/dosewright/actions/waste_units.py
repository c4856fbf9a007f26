"""Units of stock are spoiled: broken, spilled, past their day."""

from fractions import Fraction

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.supply.movement import Movement, MovementKind
from dosewright.core.supply.receiving import check_spoiling
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.ledger import append_entry
from dosewright.store.stock import lock_lot, save_movements

__all__ = ["waste_units"]


@doing(Ability.WASTE_UNITS, "medicine")
def waste_units(medicine: MedicineCode, on: Occasion, lot: Lot, amount: Fraction, reason: str) -> Outcome:
    """`amount` units of the lot leave stock for waste (R11)."""
    findings = check_spoiling(lock_lot(medicine, lot), amount) + check_reason(reason)
    if blocks(findings):
        return not_done(findings)
    entry = append_entry(on, "units wasted", ("medicine", medicine), {"lot": lot, "amount": amount, "reason": reason})
    save_movements([Movement(MovementKind.SPOILED, medicine, lot, amount)], entry)
    return done()
