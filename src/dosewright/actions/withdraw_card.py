"""A card that has not left the pharmacy is taken out of use."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event

__all__ = ["withdraw_card"]


@doing(Ability.WITHDRAW_CARD, "card")
def withdraw_card(number: CardNumber, on: Occasion, reason: str) -> Outcome:
    """Its days may be planned anew; its contents wait to be destroyed (R10)."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.WITHDRAWN) + check_reason(reason)
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.WITHDRAWN, on, {"reason": reason})
    return done()
