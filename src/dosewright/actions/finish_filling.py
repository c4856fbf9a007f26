"""The filler says that the card is full."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.last_days import check_last_days
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event

__all__ = ["finish_filling"]


@doing(Ability.FINISH_FILLING, "card")
def finish_filling(number: CardNumber, on: Occasion) -> Outcome:
    """The card waits for its check now; refused while any cell differs from the plan (R2, R3) or a dose lies after its last day (R5)."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.FILLED) + check_filling(card.filled) + check_last_days(card.filled)
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.FILLED, on)
    return done(findings)
