"""Orders at other dosing times ⇄ rows: a new row of the same order with the same words as received, and what those words left free."""

import hashlib
from collections.abc import Iterable, Mapping

from django.db.models import Max

from dosewright.core.custody.taking_up import TAKEN_UP
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.store.ledger import load_entries
from dosewright.store.models import OrderRow, PersonRow
from dosewright.store.orders import load_order
from dosewright.store.people import save_timetable
from dosewright.store.value_json import format_value, parse_value

__all__ = ["give_timetable", "load_words", "lock_orders_of", "save_revision"]


def lock_orders_of(person: PersonId) -> None:
    """Keep all the person's orders from the other stations, before the person is locked: others lock in that order too."""
    list(OrderRow.objects.select_for_update(of=("self",)).filter(person_id=person).order_by("id").values_list("id", flat=True))


def save_revision(order: Order) -> OrderId:
    """A row beside the order's own, with a new id; text, file and reading as received are the same. It waits until it is settled."""
    row = OrderRow.objects.get(id=order.id)
    newest = OrderRow.objects.filter(source=row.source).aggregate(newest=Max("revision"))["newest"]
    made = OrderId(f"{row.source}~{newest + 1}")
    row.pk, row.revision = made, newest + 1
    row.standing, row.settled_by, row.settled_by_id, row.settled_at, row.replaced_by_id = "waiting", "", "", None, None
    row.value = format_value(order)
    row._state.adding = True
    row.save(force_insert=True)
    return made


def give_timetable(person: PersonId, timetable: Timetable) -> None:
    """The person follows these dosing times of their own from now on."""
    name = f"own {hashlib.sha256(person.encode()).hexdigest()[:32]}"
    save_timetable(name, timetable)
    PersonRow.objects.filter(id=person).update(timetable_id=name)


def load_words(orders: Iterable[Order]) -> Mapping[OrderId, tuple[Dosage, ...]]:
    """For each order whose dosing times were taken up from a proposal, the dosages as they were before the first time."""
    return {order.id: words for order in orders if (words := _words(order.id))}


def _words(order: OrderId) -> tuple[Dosage, ...]:
    """Back along the orders that it took the place of; () for an order that nobody moved."""
    for entry in load_entries("order", order):
        if entry.event == TAKEN_UP:
            former = OrderId(str(parse_value(dict[str, Fact], entry.body)["replaces"]))
            return _words(former) or load_order(former).order.dosages
    return ()
