"""A released card goes into other hands."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.recalled import check_recalled
from dosewright.core.checking.release import check_past
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reason import check_named
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.calendar import wall_day
from dosewright.store.cards import lock_card, save_event
from dosewright.store.stock import load_recalled_lots

__all__ = ["hand_over_card"]


@doing(Ability.HAND_OVER_CARD, "card")
def hand_over_card(number: CardNumber, on: Occasion, to: str) -> Outcome:
    """It has left the pharmacy, received by the person named. Refused while its orders have changed (R9), past its last day (R5), and with
    units of a recalled lot."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.HANDED_OVER) + check_past(card.filled, wall_day(on.at)) + check_named(to)
    findings += check_recalled(card.filled, load_recalled_lots())
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.HANDED_OVER, on, {"to": to})
    return done()
