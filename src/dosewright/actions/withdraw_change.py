"""A change is withdrawn: the prescriber takes it back, or it was entered for somebody else."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.changing import ChangeStanding, check_withdrawing
from dosewright.core.custody.ending import put_back
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.rights import Ability
from dosewright.store.cards import lock_open_cards, save_event
from dosewright.store.changes import lock_change, save_standing
from dosewright.store.dosing_times import lock_orders_of
from dosewright.store.ledger import append_entry
from dosewright.store.orders import load_confirmed, save_end
from dosewright.store.people import lock_person

__all__ = ["withdraw_change"]


@doing(Ability.WITHDRAW_CHANGE, "change")
def withdraw_change(change: int, on: Occasion, reason: str) -> Outcome:
    """The orders ask again what they asked before it, and the cards, to which nothing was done, hold that: they are no longer out of date.
    `made`: the ids of the orders that were put back."""
    stored = lock_change(change)
    lock_orders_of(stored.person.id)
    lock_person(stored.person.id)
    cards = lock_open_cards(stored.person.id)
    if findings := check_withdrawing(change, stored.standing, (card.state for card in cards), reason):
        return not_done(findings)
    orders = put_back(stored.before, load_confirmed(stored.person.id))
    for order in orders:
        save_end(order)
    for card in cards:
        if card.state.out_of_date or card.state.decision == "wait":
            save_event(card, Deed.DECIDED, on, {"choice": "withdrawn", "reason": reason, "change": change})
    save_standing(change, ChangeStanding.WITHDRAWN)
    ids = tuple(order.id for order in orders)
    append_entry(on, "change withdrawn", ("change", str(change)), {"reason": reason, "orders": ids})
    return done((), *ids)
