"""What an administration record has to have: a block for every order of the person, with a row for each dosing time and amount.

Orders in a card take their days from the plan's cavities; orders alongside take them from their directions. An order without a schedule
(as needed, or not to be scheduled) gets boxes to fill in by hand. Holds CV-2.3: blocks = orders packed + orders not packed.
"""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.material import Material
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import MedicineCode, OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit

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


Due = tuple[date, time, SlotName, Quantity]


def record_blocks(person: PersonPlan, material: Material) -> tuple[RecordBlock, ...]:
    """Packed orders by the medicine's name, then those alongside in the plan's order; on-demand ones last."""
    packed = [
        RecordBlock(material.order(order), material.medicine(code), _rows(due), packed=True)
        for (order, code), due in _packed(person).items()
    ]
    packed += [
        RecordBlock(material.order(said.order), material.medicine(said.medicine), (), packed=True)
        for said in dict.fromkeys(column.when_needed for card in person.cards for column in card.columns)
        if said
    ]
    beside = [_beside(line.order, line.medicine, person, material) for line in person.alongside]
    first = sorted(packed, key=lambda block: (block.medicine.label.casefold(), block.order.id))
    return tuple(sorted((*first, *beside), key=lambda block: not block.rows))


def _packed(person: PersonPlan) -> dict[tuple[OrderId, MedicineCode], list[Due]]:
    found: dict[tuple[OrderId, MedicineCode], list[Due]] = defaultdict(list)
    for card in person.scheduled:
        for cavity in card.cavities:
            for content in cavity.contents:
                found[content.order, content.medicine].append((cavity.day, cavity.time, cavity.slot, content.quantity))
    return found


def _beside(order_id: OrderId, code: MedicineCode, person: PersonPlan, material: Material) -> RecordBlock:
    order, request = material.order(order_id), material.request
    timetable = request.timetable_of(material.person(person.person))
    doses = expand(order, timetable, request.first, request.days).doses
    rows = _rows([(dose.day, dose.time, dose.slot, dose.quantity) for dose in doses])
    return RecordBlock(order, material.medicine(code), rows, packed=False)


def _rows(due: list[Due]) -> tuple[RecordRow, ...]:
    """One dose split over cavities counts as one: its parts are added up before the days are sorted into rows."""
    amounts: dict[tuple[date, time, SlotName, Unit], Fraction] = defaultdict(Fraction)
    for day, at, slot, quantity in due:
        amounts[day, at, slot, quantity.unit] += quantity.count
    rows: dict[tuple[time, SlotName, Quantity], set[date]] = defaultdict(set)
    for (day, at, slot, unit), count in amounts.items():
        rows[at, slot, Quantity(count, unit)].add(day)
    order = sorted(rows.items(), key=lambda row: (row[0][0], -row[0][2].count, row[0][2].unit))
    return tuple(RecordRow(at, slot, quantity, frozenset(days)) for (at, slot, quantity), days in order)
