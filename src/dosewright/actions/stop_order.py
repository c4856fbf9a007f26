"""A confirmed order ends."""

from dosewright.actions.doing import doing
from dosewright.actions.mark_touched import mark_touched
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.settling import check_stopping, end_at
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import lock_open_cards
from dosewright.store.ledger import append_entry
from dosewright.store.orders import load_confirmed, lock_order, save_end
from dosewright.store.people import lock_person

__all__ = ["stop_order"]


@doing(Ability.STOP_ORDER, "order")
def stop_order(order: OrderId, on: Occasion, at: Moment, reason: str) -> Outcome:
    """No dose of it is due at `at` or later; cards that it touches are out of date (R9)."""
    stored = lock_order(order)
    person = lock_person(stored.person.id)
    cards, before = lock_open_cards(person), load_confirmed(person)
    findings = check_stopping(stored.order, stored.standing, at, reason)
    if blocks(findings):
        return not_done(findings)
    save_end(end_at(stored.order, at))
    append_entry(on, "order stopped", ("order", order), {"person": person, "day": at.day, "time": at.time, "reason": reason})
    return done(findings + mark_touched(person, on, before, cards))
