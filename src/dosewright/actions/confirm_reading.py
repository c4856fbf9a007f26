"""A pharmacist confirms what was read of an order's directions (R13)."""

from dosewright.actions.doing import doing
from dosewright.actions.look_around import look_around
from dosewright.actions.mark_touched import mark_touched
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.confirming import Confirmation, settle
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.settling import check_waiting, facts_of_order
from dosewright.core.interop.dosage_json import format_dosage
from dosewright.core.interop.json_text import format_json
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import lock_open_cards
from dosewright.store.ledger import append_entry
from dosewright.store.orders import Verdict, lock_order, save_end, save_settled
from dosewright.store.people import lock_person
from dosewright.store.wordings import lock_wording

__all__ = ["confirm_reading"]


@doing(Ability.CONFIRM_READING, "order")
def confirm_reading(order: OrderId, on: Occasion, said: Confirmation) -> Outcome:
    """The order counts from now on; the one it replaces ends as it begins; cards that it touches are out of date (R9). The ledger has
    the words, the structure that was chosen, its number among those laid out, who and when."""
    stored = lock_order(order)
    person = lock_person(stored.person.id)
    cards = lock_open_cards(person)
    if said.wording is not None:
        lock_wording(said.wording)
    around = look_around(stored, on.at)
    settled = settle(stored.order, stored.reading, said, around)
    findings = check_waiting(order, stored.standing) + settled.findings
    if settled.order is None or check_waiting(order, stored.standing):
        return not_done(findings)
    save_settled(settled.order, _verdict(said), on)
    if settled.replaced:
        save_end(settled.replaced, replaced_by=order)
    append_entry(on, "reading confirmed", ("order", order), facts_of_order(settled.order, said, _written(settled.order), settled.findings))
    return done(findings + mark_touched(person, on, tuple(around.others), cards))


def _verdict(said: Confirmation) -> Verdict:
    """Directions written anew are none of the meanings that were laid out."""
    if said.restated is not None:
        return Verdict("confirmed", reason=said.reason)
    return Verdict("confirmed", said.choice, said.wording, said.reason)


def _written(order: Order) -> tuple[str, ...]:
    return tuple(format_json(format_dosage(dosage)) for dosage in order.dosages)
