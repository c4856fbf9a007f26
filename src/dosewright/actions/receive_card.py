"""A card arrives where it was sent."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability, check_home
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event

__all__ = ["receive_card"]


@doing(Ability.RECEIVE_CARD, "card")
def receive_card(number: CardNumber, on: Occasion) -> Outcome:
    """The home has it; a home's own people receive only what is their home's (R14)."""
    card = lock_card(number)
    findings = check_home(on.by, card.person.home) + check_follows(card.state, Deed.RECEIVED)
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.RECEIVED, on)
    return done()
