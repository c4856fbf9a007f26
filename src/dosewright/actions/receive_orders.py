"""A file of orders comes in. It is kept byte for byte; every order in it waits for a pharmacist, beside the text it came with."""

from collections.abc import Iterator

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.receiving import note_person_differs, note_seen_before
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.order_file import kind_of, read_order_file
from dosewright.core.interop.orders_in import OrdersIn, OrderSource
from dosewright.core.units.finding import Finding
from dosewright.devices.definitions import load_definitions
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import append_entry
from dosewright.store.orders import save_order, save_order_file
from dosewright.store.people import save_new_person
from dosewright.store.pharmacy import lock_pharmacy

__all__ = ["receive_orders"]


@doing(Ability.RECEIVE_ORDERS, "file")
def receive_orders(name: str, on: Occasion, content: bytes, lang: str = "en") -> Outcome:
    """Orders without fault wait to be confirmed; the findings name the others. Nothing is done where nothing in the file may be used.

    `made`: the file's id, then the orders' ids.
    """
    source = OrderSource(name, load_catalogue(), lang, lock_pharmacy().country, wall_day(on.at))
    found = read_order_file(content, source, load_definitions)
    if not found.received:
        return not_done(found.findings)
    file = save_order_file(content, name, kind_of(content), on, found.findings)
    about_people = tuple(_save_people(found))
    kept = {received.order.id: save_order(received, file) for received in found.received}
    append_entry(on, "orders received", ("file", str(file)), {"name": name, "orders": tuple(new for new in kept.values() if new)})
    seen = tuple(note_seen_before(order) for order, new in kept.items() if new is None)
    return done(found.findings + about_people + seen, str(file), *(new for new in kept.values() if new))


def _save_people(found: OrdersIn) -> Iterator[Finding]:
    """People who are new are added; the record of a known one is kept, and a difference is said."""
    for person in found.people:
        if not save_new_person(person):
            yield note_person_differs(person)
