"""A checked card is closed."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.recalled import check_recalled
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event
from dosewright.store.stock import load_recalled_lots

__all__ = ["seal_card"]


@doing(Ability.SEAL_CARD, "card")
def seal_card(number: CardNumber, on: Occasion) -> Outcome:
    """From now on whatever is taken out of it goes to waste (R10)."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.SEALED) + check_recalled(card.filled, load_recalled_lots())
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.SEALED, on)
    return done()
