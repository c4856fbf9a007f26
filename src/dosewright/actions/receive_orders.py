"""A file of orders comes in. It is kept byte for byte; every order in it waits for a pharmacist, beside the text it came with."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.receiving import check_person, note_seen_before
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.order_file import kind_of, read_order_file
from dosewright.core.interop.orders_in import OrderSource
from dosewright.core.units.finding import blocks
from dosewright.devices.definitions import load_definitions
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import append_entry
from dosewright.store.orders import save_order, save_order_file
from dosewright.store.people import find_person, save_person
from dosewright.store.pharmacy import lock_pharmacy

__all__ = ["receive_orders"]


@doing(Ability.RECEIVE_ORDERS, "file")
def receive_orders(name: str, on: Occasion, content: bytes, lang: str = "en") -> Outcome:
    """Orders without fault wait to be confirmed; the findings name the others. Nothing is done where nothing in the file may be used.

    People who are new are added; the record of a known one is never changed here. `made`: the file's id, then the orders' ids.
    """
    source = OrderSource(name, load_catalogue(), lang, lock_pharmacy().country, wall_day(on.at))
    found = read_order_file(content, source, load_definitions)
    about = {person.id: check_person(find_person(person.id), person) for person in found.people}
    findings = found.findings + tuple(finding for person in found.people for finding in about[person.id])
    usable = [received for received in found.received if not blocks(about.get(received.order.person, ()))]
    if not usable:
        return not_done(findings)
    for person in found.people:
        if find_person(person.id) is None:
            save_person(person)
    file = save_order_file(content, name, kind_of(content), on, findings)
    kept = {received.order.id: save_order(received, file) for received in usable}
    made = tuple(new for new in kept.values() if new)
    append_entry(on, "orders received", ("file", str(file)), {"name": name, "orders": made})
    return done(findings + tuple(note_seen_before(order) for order, new in kept.items() if new is None), str(file), *made)
