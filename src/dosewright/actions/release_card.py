"""The pharmacist lets a card leave."""

from dosewright.actions.doing import doing
from dosewright.actions.note_near_miss import note_caught_on_release
from dosewright.actions.outcome import Outcome, done, not_used
from dosewright.core.checking.recalled import check_recalled
from dosewright.core.checking.release import check_release
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.calendar import wall_day
from dosewright.store.cards import StoredCard, lock_card, save_event
from dosewright.store.stock import load_recalled_lots

__all__ = ["MEANING", "may_release", "release_card"]

# What the signature means, on screen and in the ledger. Source: 21 CFR 11.50(a)(3).
MEANING = "I have seen that this card was checked by somebody who did not fill it, and I let it leave."


def may_release(card: StoredCard, on: Occasion) -> tuple[Finding, ...]:
    """What keeps this card here: its stage, its orders (R9), its contents (R2, R3), its days (R5) or a lot that is recalled."""
    return (
        check_follows(card.state, Deed.RELEASED)
        + check_release(card.filled, wall_day(on.at))
        + check_recalled(card.filled, load_recalled_lots())
    )


@doing(Ability.RELEASE_CARD, "card")
def release_card(number: CardNumber, on: Occasion) -> Outcome:
    """The card may leave. Whoever calls has asked for the pharmacist's password again (R8, R14). Contents or days that are
    wrong at this point are a near miss."""
    card = lock_card(number)
    findings = may_release(card, on)
    if blocks(findings):
        return not_used(findings, *note_caught_on_release(card, on, findings))
    save_event(card, Deed.RELEASED, on, {"signed by": on.by.name, "meaning": MEANING})
    return done(findings)
