"""A lot is recalled: from then on nothing of it is placed, and no card with units of it goes on; and a recall is lifted again."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.recalling import check_lifting, check_recalling
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.ledger import append_entry
from dosewright.store.stock import lock_lot, mark_recalled

__all__ = ["lift_recall", "recall_lot"]


@doing(Ability.RECALL_LOT, "medicine")
def recall_lot(medicine: MedicineCode, on: Occasion, lot: Lot, urgency: str, reason: str) -> Outcome:
    """Units in stock stay counted and are not used; cards here with units of it are held; for cards outside there are the notices."""
    lock_lot(medicine, lot)
    findings = check_recalling(urgency, reason)
    if blocks(findings):
        return not_done(findings)
    mark_recalled(medicine, lot, f"{urgency}: {reason}")
    append_entry(on, "lot recalled", ("medicine", medicine), {"lot": lot, "urgency": urgency, "reason": reason})
    return done()


@doing(Ability.RECALL_LOT, "medicine")
def lift_recall(medicine: MedicineCode, on: Occasion, lot: Lot, reason: str) -> Outcome:
    """The lot may be used again: it was another that was meant, or its maker says so."""
    findings = check_lifting(lock_lot(medicine, lot), reason)
    if blocks(findings):
        return not_done(findings)
    mark_recalled(medicine, lot, "")
    append_entry(on, "recall lifted", ("medicine", medicine), {"lot": lot, "reason": reason})
    return done()
