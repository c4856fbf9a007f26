"""The contents of a returned or withdrawn card are destroyed, before a witness."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reason import check_named, check_reason
from dosewright.core.custody.returning import destroying_movements
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event
from dosewright.store.stock import lock_lots, save_movements

__all__ = ["destroy_card"]


@doing(Ability.WASTE_UNITS, "card")
def destroy_card(number: CardNumber, on: Occasion, reason: str, witness: str) -> Outcome:
    """Everything left in the card is waste, with who, why and the witness (R11)."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.DESTROYED) + check_reason(reason) + check_named(witness)
    if blocks(findings):
        return not_done(findings)
    movements = destroying_movements(card.state)
    lock_lots(movements)
    _, entry = save_event(card, Deed.DESTROYED, on, {"reason": reason, "witness": witness})
    save_movements(movements, entry)
    return done()
