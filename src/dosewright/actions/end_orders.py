"""All of a person's orders end at one moment: for a stay in hospital, at discharge with another regimen, after a death. And resuming."""

from dosewright.actions.doing import doing
from dosewright.actions.mark_touched import mark_touched
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.changing import Cause
from dosewright.core.custody.ending import (
    ENDED,
    RESUMED,
    EndAsk,
    check_ending,
    ends_by,
    facts_of_ending,
    resumed,
    still_suspended,
)
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.store.cards import lock_open_cards
from dosewright.store.dosing_times import lock_orders_of, save_revision
from dosewright.store.ledger import append_entry, load_entries
from dosewright.store.orders import Verdict, load_confirmed, save_end, save_settled
from dosewright.store.people import lock_person
from dosewright.store.value_json import parse_value

__all__ = ["end_orders", "find_suspended", "resume_orders"]


@doing(Ability.TAKE_CHANGE, "person")
def end_orders(person: PersonId, on: Occasion, ask: EndAsk) -> Outcome:
    """No dose of them is due at the moment or later; every card that it touches is out of date (R9). Suspended orders are remembered."""
    lock_orders_of(person)
    lock_person(person)
    cards, before = lock_open_cards(person), load_confirmed(person)
    ending = ends_by(ask, before)
    if findings := check_ending(ask, ending):
        return not_done(findings)
    for order in ending:
        save_end(order)
    ids = {order.id for order in ending}
    append_entry(on, ENDED, ("person", person), facts_of_ending(person, ask, (order for order in before if order.id in ids)))
    return done(mark_touched(person, on, before, cards, ask.cause), *sorted(ids))


@doing(Ability.TAKE_CHANGE, "person")
def resume_orders(person: PersonId, on: Occasion, at: Moment, reason: str) -> Outcome:
    """Suspended orders count again from the moment on, as rows of their own with the words as received. What would have ended meanwhile
    stays ended. `made`: the ids of the orders that count again."""
    lock_orders_of(person)
    lock_person(person)
    cards, before = lock_open_cards(person), load_confirmed(person)
    again = [one for order, end in find_suspended(person) if (one := resumed(order, end, at)) is not None]
    findings = check_reason(reason)
    if not again:
        findings += (Finding("change.nothing-suspended", Severity.STOP),)
    if findings:
        return not_done(findings)
    made = tuple(_resume(order, on, reason) for order in again)
    said: dict[str, Fact] = {"person": person, "day": at.day, "time": at.time, "reason": reason, "orders": made}
    append_entry(on, RESUMED, ("person", person), said)
    return done(mark_touched(person, on, before, cards, Cause.RESUMED), *made)


def _resume(order: Order, on: Occasion, reason: str) -> OrderId:
    made = save_revision(order)
    save_settled(_named(order, made), Verdict("confirmed", reason=reason), on)
    return made


def _named(order: Order, made: OrderId) -> Order:
    return type(order)(**{name: getattr(order, name) for name in order.__slots__} | {"id": made})


def find_suspended(person: PersonId) -> tuple[tuple[Order, Moment | None], ...]:
    """The orders of the latest suspension that nobody has resumed, each with the end that it had."""
    latest: dict[str, Fact] | None = None
    for entry in load_entries("person", person):
        if entry.event == RESUMED:
            latest = None
        elif entry.event == ENDED:
            facts = parse_value(dict[str, Fact], entry.body)
            latest = facts if facts.get("cause") == Cause.SUSPENDED.value else None
    return still_suspended(latest, load_confirmed(person)) if latest else ()
