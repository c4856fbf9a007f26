"""A person's orders have changed: their open cards that no longer hold what is asked are marked, in the same transaction (R9), and the
change waits for a pharmacist."""

from collections.abc import Sequence

from dosewright.actions.take_change import take_change
from dosewright.core.custody.changing import Cause
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.touching import facts_of, findings_of
from dosewright.core.regimen.order import Order
from dosewright.core.rework.touched import Change, touched
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId
from dosewright.store.calendar import wall_moment
from dosewright.store.cards import StoredCard, save_event
from dosewright.store.orders import load_confirmed
from dosewright.store.people import load_timetable

__all__ = ["mark_touched"]


def mark_touched(
    person: PersonId, on: Occasion, before: tuple[Order, ...], cards: Sequence[StoredCard], cause: Cause = Cause.ORDERS
) -> tuple[Finding, ...]:
    """Mark every card of `cards` (locked, the person's open ones) that the change from `before` to the orders as saved now touches.
    From one that others have taken the place of nothing is given any more: it is not marked, and holds no dose.

    Doses that are past cannot change: what counts is from this moment on.
    """
    change = Change(before, load_confirmed(person), wall_moment(on.at), load_timetable(person))
    found = touched([card.card for card in cards if not card.state.replaced], change)
    also = found or touched([card.card for card in cards], change)  # days of which others were to take the place, and did not yet
    by_number = {card.number: card for card in cards}
    for touch in found:
        save_event(by_number[touch.card], Deed.OUT_OF_DATE, on, facts_of(touch))
    if also:
        take_change(person, on, before, also, cause)
    return findings_of(found, change.at.day)
