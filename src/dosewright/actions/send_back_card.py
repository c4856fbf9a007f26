"""The checker sends a card back to be filled right; the error was caught before release, so a near miss is recorded with it."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event
from dosewright.store.near_misses import StoredNearMiss, save_near_miss

__all__ = ["send_back_card"]


@doing(Ability.SEND_BACK_CARD, "card")
def send_back_card(number: CardNumber, on: Occasion, kind: NearMissKind, reason: str) -> Outcome:
    """The card is being filled again. Nobody's name but the finder's is asked for: it is about work, not about blame."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.SENT_BACK) + check_reason(reason)
    if blocks(findings):
        return not_done(findings)
    _, entry = save_event(card, Deed.SENT_BACK, on, {"kind": kind.value, "reason": reason})
    save_near_miss(StoredNearMiss(on.at, number, card.state.stage, kind, on.by.name, reason), entry)
    return done()
