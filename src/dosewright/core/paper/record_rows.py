"""What an administration record has to have: a block for every order of the person, with a row for each dosing time and amount.

Orders in a card take their days from the plan's cavities; orders alongside take them from their directions. An order without a schedule
(as needed, or not to be scheduled) gets boxes to fill in by hand. Holds CV-2.3: blocks = orders packed + orders not packed.
"""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, time

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.due import Due, due_of, orders_on_demand, packed_orders
from dosewright.core.paper.material import Material
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.quantity import Quantity

__all__ = ["RecordBlock", "RecordRow", "record_blocks"]


@dataclass(frozen=True, slots=True)
class RecordRow:
    """So much at one dosing time, and the days on which it is due."""

    time: time
    slot: SlotName
    quantity: Quantity
    days: frozenset[date]


@dataclass(frozen=True, slots=True)
class RecordBlock:
    """One order: `rows` in order of the clock, then of amount; none where it is given on demand. `packed`: it lies in a card."""

    order: Order
    medicine: Medicine
    rows: tuple[RecordRow, ...]
    packed: bool


def record_blocks(person: PersonPlan, material: Material) -> tuple[RecordBlock, ...]:
    """Packed orders by the medicine's name, then those alongside in the plan's order, then any other with a dose; on-demand ones last."""
    request, packed = material.request, packed_orders(person)
    rows: dict[OrderId, list[Due]] = defaultdict(list)
    for due in due_of(person, material, request.first, request.days):
        rows[due.order.id].append(due)
    codes = {content.order: content.medicine for card in person.cards for cavity in card.cavities for content in cavity.contents}
    codes |= {line.order: line.medicine for line in person.alongside}
    codes |= {due.order.id: due.medicine.code for some in rows.values() for due in some}
    codes |= {order.id: medicine.code for order, medicine in orders_on_demand(person, material, request.first, request.days)}
    found = {
        order: RecordBlock(material.order(order), material.medicine(code), _rows(rows[order]), packed=order in packed)
        for order, code in codes.items()
        if rows[order] or order in packed or _is_alongside(order, person) or _on_demand(material.order(order))
    }
    first = sorted((block for block in found.values() if block.packed), key=lambda block: (block.medicine.label.casefold(), block.order.id))
    return tuple(sorted((*first, *(block for block in found.values() if not block.packed)), key=lambda block: not block.rows))


def _is_alongside(order: OrderId, person: PersonPlan) -> bool:
    return any(line.order == order for line in person.alongside)


def _on_demand(order: Order) -> bool:
    return any(dosage.as_needed for dosage in order.dosages)


def _rows(due: list[Due]) -> tuple[RecordRow, ...]:
    rows: dict[tuple[time, SlotName, Quantity], set[date]] = defaultdict(set)
    for one in due:
        rows[one.time, one.slot, one.quantity].add(one.day)
    order = sorted(rows.items(), key=lambda row: (row[0][0], -row[0][2].count, row[0][2].unit))
    return tuple(RecordRow(at, slot, quantity, frozenset(days)) for (at, slot, quantity), days in order)
