"""The filler says that the card is full."""

import secrets

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.check_plan import ALL
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.last_days import check_last_days
from dosewright.core.checking.recalled import check_recalled
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Fact, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import StoredCard, lock_card, save_event
from dosewright.store.pharmacy import load_rules
from dosewright.store.stock import load_recalled_lots

__all__ = ["finish_filling"]


@doing(Ability.FINISH_FILLING, "card")
def finish_filling(number: CardNumber, on: Occasion) -> Outcome:
    """The card waits for its check now; refused while any cell differs from the plan (R2, R3) or a dose lies after its last day (R5)."""
    card = lock_card(number)
    findings = check_follows(card.state, Deed.FILLED) + check_filling(card.filled) + check_last_days(card.filled)
    findings += check_recalled(card.filled, load_recalled_lots())
    if blocks(findings):
        return not_done(findings)
    save_event(card, Deed.FILLED, on, _drawn(card))
    return done(findings)


def _drawn(card: StoredCard) -> dict[str, Fact]:
    """The seed of the check plan, where the profile lets a checker count some cavities only: drawn when nobody can change the filling any
    more, so that whoever filled could not foresee it, and kept in the ledger, so that whoever reads it later can draw again."""
    choice = load_rules(card.rules).profile.counted_percent < ALL
    return {"seed": secrets.token_hex(16)} if choice else {}
