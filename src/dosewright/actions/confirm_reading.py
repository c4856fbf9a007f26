"""A pharmacist confirms what was read of an order's directions (R13)."""

from dosewright.actions.doing import doing
from dosewright.actions.mark_touched import mark_touched
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.confirming import Around, Confirmation, settle
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.settling import check_waiting, facts_of_order
from dosewright.core.units.ids import OrderId
from dosewright.store.calendar import wall_day
from dosewright.store.cards import lock_open_cards
from dosewright.store.ledger import append_entry
from dosewright.store.orders import load_confirmed, lock_order, save_end, save_settled
from dosewright.store.people import load_timetable, lock_person

__all__ = ["confirm_reading"]


@doing(Ability.CONFIRM_READING, "order")
def confirm_reading(order: OrderId, on: Occasion, said: Confirmation) -> Outcome:
    """The order counts from now on; the one it replaces ends as it begins; cards that it touches are out of date (R9)."""
    stored = lock_order(order)
    person = lock_person(stored.person.id)
    cards, before = lock_open_cards(person), load_confirmed(person)
    around = Around(before, load_timetable(person), wall_day(on.at), stored.findings)
    settled = settle(stored.order, stored.reading, said, around)
    findings = check_waiting(order, stored.standing) + settled.findings
    if settled.order is None or check_waiting(order, stored.standing):
        return not_done(findings)
    save_settled(settled.order, "confirmed", on, choice=said.choice, reason=said.reason)
    if settled.replaced:
        save_end(settled.replaced, replaced_by=order)
    append_entry(on, "reading confirmed", ("order", order), facts_of_order(settled.order, said))
    return done(findings + mark_touched(person, on, before, cards))
