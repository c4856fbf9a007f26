"""A pharmacist decides about a card whose orders have changed (R9)."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.decision import Choice, check_decision, deeds_of
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event

__all__ = ["decide_card"]


@doing(Ability.DECIDE_CARD, "card")
def decide_card(number: CardNumber, on: Occasion, choice: str, reason: str) -> Outcome:
    """The decision is on record with its reason: the card runs out as it is, is withdrawn and planned anew, or is called back."""
    card = lock_card(number)
    findings = check_decision(card.state, choice, reason)
    if blocks(findings):
        return not_done(findings)
    for deed in deeds_of(Choice(choice)):
        card, _ = save_event(card, deed, on, {"choice": choice, "reason": reason})
    return done()
