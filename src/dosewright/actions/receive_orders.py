"""A file of orders comes in. It is kept byte for byte; every order in it waits for a pharmacist, beside the text it came with.

What cannot be used waits as well: nobody is planned for while an order of theirs is neither in force nor turned down (R1).
"""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_used
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.receiving import check_person, note_seen_before
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.unused import UnusedOrder, gather_unused
from dosewright.core.interop.order_file import kind_of, read_order_file
from dosewright.core.interop.orders_in import OrdersIn, OrderSource, ReceivedOrder
from dosewright.core.units.finding import Fact, Finding, blocks
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.devices.definitions import load_definitions
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import append_entry
from dosewright.store.orders import CameAs, save_order, save_order_file
from dosewright.store.people import find_person, save_person
from dosewright.store.pharmacy import lock_pharmacy
from dosewright.store.unused import save_replaced, save_unused

__all__ = ["receive_orders"]

_About = dict[PersonId, tuple[Finding, ...]]


@doing(Ability.RECEIVE_ORDERS, "file")
def receive_orders(name: str, on: Occasion, content: bytes, lang: str = "en") -> Outcome:
    """Orders without fault wait to be confirmed, the others to be settled; the findings name them.

    People who are new are added; the record of a known one is never changed here. `made`: the file's id, then the ids of the orders that
    may be confirmed. Where there is none it is not done: yet the file is kept, and what it holds of orders waits to be settled.
    """
    source = OrderSource(name, load_catalogue(), lang, lock_pharmacy().country, wall_day(on.at))
    found = read_order_file(content, source, load_definitions)
    about: _About = {person.id: check_person(find_person(person.id), person) for person in found.people}
    findings = found.findings + tuple(finding for person in found.people for finding in about[person.id])
    usable = [received for received in found.received if not blocks(about.get(received.order.person, ()))]
    unused = _unused(found, about, usable)
    if usable or unused:
        _add_new_people(found)
    file = save_order_file(content, CameAs(name, kind_of(content), lang), on, findings)
    kept = {received.order.id: save_order(received, file) for received in usable}
    replaced = [number for received in usable for number in _replaced(received, on, name)]
    waits = tuple(str(number) for one in unused if (number := save_unused(one, file)) is not None)
    made = tuple(new for new in kept.values() if new)
    said: dict[str, Fact] = {"name": name, "orders": made, "not used": waits, "replaced": tuple(map(str, replaced))}
    append_entry(on, "orders received" if usable else "orders kept, none used", ("file", str(file)), said)
    if not usable:
        return not_used(findings, str(file))
    return done(findings + tuple(note_seen_before(order) for order, new in kept.items() if new is None), str(file), *made)


def _unused(found: OrdersIn, about: _About, usable: list[ReceivedOrder]) -> tuple[UnusedOrder, ...]:
    """Broken orders, and those of somebody who is another human being here."""
    used: set[OrderId] = {received.order.id for received in usable}
    others = [one.order for one in found.received if one.order.id not in used]
    doubted = [
        Finding(finding.code, finding.severity, {**finding.where, "order": order.id, "resource": f"order {order.id}"}, finding.facts)
        for order in others
        for finding in about.get(order.person, ())
    ]
    words = {**found.words, **{f"order {order.id}": f"{order.medicine} · {order.text}" for order in others}}
    return gather_unused((*found.findings, *doubted), used, words, (person.id for person in found.people))


def _add_new_people(found: OrdersIn) -> None:
    for person in found.people:
        if find_person(person.id) is None:
            save_person(person)


def _replaced(received: ReceivedOrder, on: Occasion, file: str) -> tuple[int, ...]:
    return save_replaced(received.order.person, received.order.id, on, f"came in again in {file}, and can be used")
