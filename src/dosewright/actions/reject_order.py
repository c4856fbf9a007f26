"""A pharmacist rejects an order: nothing is ever scheduled from it."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.settling import check_waiting
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import OrderId
from dosewright.store.ledger import append_entry
from dosewright.store.orders import Verdict, lock_order, save_settled

__all__ = ["reject_order"]


@doing(Ability.REJECT_ORDER, "order")
def reject_order(order: OrderId, on: Occasion, reason: str) -> Outcome:
    """The order and its text stay on record, with who, when and why."""
    stored = lock_order(order)
    findings = check_waiting(order, stored.standing) + check_reason(reason)
    if blocks(findings):
        return not_done(findings)
    save_settled(stored.order, Verdict("rejected", reason=reason), on)
    append_entry(on, "order rejected", ("order", order), {"person": stored.person.id, "reason": reason})
    return done()
