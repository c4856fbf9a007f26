"""A card cannot be found, or is found again."""

from dosewright.actions.decide_anew import decide_anew
from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Finding, Severity, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import lock_card, save_event

__all__ = ["say_found", "say_not_found"]


@doing(Ability.LOOK_FOR_CARD, "card")
def say_not_found(number: CardNumber, on: Occasion, reason: str) -> Outcome:
    """Nobody knows where it is: nothing can be done in it, and it is listed until it is found. A change of the person waits again."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.NOT_FOUND) + check_reason(reason)
    if card.state.missing:
        findings += (Finding("change.missing-already", Severity.STOP, {"card": number}),)
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.NOT_FOUND, on, {"reason": reason})
    decide_anew(card.person.id)
    return done()


@doing(Ability.LOOK_FOR_CARD, "card")
def say_found(number: CardNumber, on: Occasion, reason: str) -> Outcome:
    """It is where its other events say it is."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.FOUND) + check_reason(reason)
    if not card.state.missing:
        findings += (Finding("change.not-missing", Severity.STOP, {"card": number}),)
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.FOUND, on, {"reason": reason})
    decide_anew(card.person.id)
    return done()
