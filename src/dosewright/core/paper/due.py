"""What is due to one person on some days, dose by dose, and where it is to be found: in which card, or in its own pack.

Comes in: one person of a plan (cards of one set or of several), the orders, the days. Goes out: `Due` values from the orders; and a `stop`
finding wherever the cards hold otherwise than the orders say, because no sheet may follow one and contradict the other.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.medicines.amounts import NotCountable, units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, PersonPlan
from dosewright.core.paper.material import Material
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit, format_amount

__all__ = ["Due", "check_called_back", "check_due", "check_known", "due_of", "orders_on_demand", "packed_orders", "waiting_days"]

_Moment = tuple[date, time, SlotName]


@dataclass(frozen=True, slots=True)
class Due:
    """One dose. `card` is None where it is not in a card: it comes from its own pack."""

    day: date
    time: time
    slot: SlotName
    order: Order
    medicine: Medicine
    quantity: Quantity
    card: CardNumber | None


def due_of(person: PersonPlan, material: Material, first: date, days: int) -> tuple[Due, ...]:
    """Every dose of the days, in order of the clock; those of the cards first, then by the medicine's name.

    What lies in a card is due as it lies there; days that no card of the person covers, and orders that are in no card, go by the orders.
    On the days of a card that waits, an order that is neither in a card nor alongside has not begun: it comes with the next card.
    """
    held, packed = _held(person, first, days), packed_orders(person)
    covered, waiting = _covered(person), waiting_days(person, material)
    beside = {line.order for line in person.alongside}
    found = [
        Due(*moment, material.order(order), material.medicine(one.medicine), Quantity(one.count, one.unit), one.card)
        for (order, moment), one in held.items()
        if not _on_demand(material.order(order), person, material, first, days)
    ]
    for order in material.request.orders_of(person.person):
        found += [
            Due(dose.day, dose.time, dose.slot, order, medicine, _in_units(dose.quantity, medicine), None)
            for dose in _expand(order, person, material, first, days).doses
            for medicine in (material.medicine(dose.medicine),)
            if dose.quantity.count and not (order.id in packed and dose.day in covered)
            if dose.day not in waiting or order.id in beside
        ]
    return tuple(sorted(found, key=lambda due: (due.day, due.time, due.card is None, due.medicine.label.casefold(), due.order.id)))


def check_due(person: PersonPlan, material: Material, first: date, days: int) -> Iterator[Finding]:
    """A `stop` for each moment at which a card of the person holds more or less of an order than the order asks for.

    Orders that are not scheduled (as needed) have no moments to compare. An order that no card holds at all is not compared either:
    it is taken from its own pack, or its cards are not planned yet. On the days of a card that waits, what lies there counts: a `note`.
    """
    held, covered = _held(person, first, days), _covered(person) - waiting_days(person, material)
    last = first + timedelta(days=days - 1)
    for card in (card for card in person.scheduled if card.number in material.waiting and card.first <= last and first <= card.last):
        yield Finding("paper.card-waits", Severity.NOTE, {"person": person.person, "card": card.number}, {"last": card.last})
    asked: dict[tuple[OrderId, _Moment], Fraction] = defaultdict(Fraction)
    compared: set[OrderId] = set()
    for order in material.request.orders_of(person.person):
        expansion = _expand(order, person, material, first, days)
        if order.id in packed_orders(person) and expansion.status is ExpansionStatus.SCHEDULED:
            compared.add(order.id)
            for dose in expansion.doses:
                asked[order.id, (dose.day, dose.time, dose.slot)] += _in_units(dose.quantity, material.medicine(dose.medicine)).count
    for order_id, moment in sorted(held.keys() | asked.keys()):
        found = held.get((order_id, moment))
        count, wanted = found.count if found else Fraction(), asked.get((order_id, moment), Fraction())
        if order_id in compared and moment[0] in covered and count != wanted:
            day, at, slot = moment
            where: dict[str, Fact] = {
                "person": person.person,
                "order": order_id,
                "card": found.card if found else "",
                "date": day,
                "slot": slot,
            }
            facts: dict[str, Fact] = {"time": at, "expected": format_amount(wanted), "found": format_amount(count)}
            yield Finding("paper.card-differs-from-orders", Severity.STOP, where, facts)


def check_called_back(person: PersonPlan, material: Material, day: date) -> Iterator[Finding]:
    """A `stop` for each card of the day from which nothing is given any more: doses come by the sheet that holds until the card is right,
    and would be given twice."""
    for card in person.cards:
        since = material.called_back.get(card.number)
        if since is not None and since <= day and card.first <= day <= card.last:
            yield Finding("paper.card-called-back", Severity.STOP, {"person": person.person, "card": card.number}, {"since": since})


def check_known(person: PersonPlan, material: Material, first: date, days: int) -> Iterator[Finding]:
    """A `stop` for an order in a card whose directions give no schedule for days that no card covers: nothing would seem due then."""
    covered, packed = _covered(person), packed_orders(person)
    bare = [day for day in (first + timedelta(days=n) for n in range(days)) if day not in covered]
    for order in material.request.orders_of(person.person) if bare else ():
        status = _expand(order, person, material, first, days).status
        if order.id in packed and status not in (ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED):
            where: dict[str, Fact] = {"person": person.person, "order": order.id, "date": bare[0]}
            yield Finding("paper.days-not-known", Severity.STOP, where, {"medicine": material.medicine(order.medicine).label})


def _on_demand(order: Order, person: PersonPlan, material: Material, first: date, days: int) -> bool:
    return _expand(order, person, material, first, days).status is ExpansionStatus.AS_NEEDED


def _in_units(dose: Quantity, medicine: Medicine) -> Quantity:
    """The dose in the product's own units, where it is a plain number of them; else as it was ordered."""
    count = units_of(dose, medicine)
    return dose if isinstance(count, NotCountable) else Quantity(count, medicine.unit)


def _covered(person: PersonPlan) -> frozenset[date]:
    """The days for which the person has a card."""
    return _days_of(person.scheduled)


def waiting_days(person: PersonPlan, material: Material) -> frozenset[date]:
    """The days of cards that go on as they are, though orders have changed: a pharmacist has decided so, with a reason."""
    return _days_of(card for card in person.scheduled if card.number in material.waiting)


def _days_of(cards: Iterable[Card]) -> frozenset[date]:
    return frozenset(card.first + timedelta(days=n) for card in cards for n in range((card.last - card.first).days + 1))


def packed_orders(person: PersonPlan) -> frozenset[OrderId]:
    """Orders of which something lies in a card."""
    return frozenset(content.order for card in person.cards for cavity in card.cavities for content in cavity.contents)


def orders_on_demand(person: PersonPlan, material: Material, first: date, days: int) -> tuple[tuple[Order, Medicine], ...]:
    """Orders in force on some of the days that have no schedule, by the medicine's name: given when needed."""
    found = [
        (order, material.medicine(order.medicine))
        for order in material.request.orders_of(person.person)
        if _in_force(order, first, days) and _on_demand(order, person, material, first, days)
    ]
    return tuple(sorted(found, key=lambda one: (one[1].label.casefold(), one[0].id)))


def _in_force(order: Order, first: date, days: int) -> bool:
    last = first + timedelta(days=days - 1)
    return (order.since is None or order.since.day <= last) and (order.until is None or order.until.day >= first)


def _expand(order: Order, person: PersonPlan, material: Material, first: date, days: int) -> Expansion:
    return expand(order, material.request.timetable_of(material.person(person.person)), first, days)


@dataclass(frozen=True, slots=True)
class _Held:
    medicine: MedicineCode
    count: Fraction
    unit: Unit
    card: CardNumber


def _held(person: PersonPlan, first: date, days: int) -> Mapping[tuple[OrderId, _Moment], _Held]:
    """What the cards hold of each order at each moment; a dose that is split over cavities is added up."""
    last = first + timedelta(days=days - 1)
    found: dict[tuple[OrderId, _Moment], _Held] = {}
    for card in person.scheduled:
        for cavity in (cavity for cavity in card.cavities if first <= cavity.day <= last):
            for content in cavity.contents:
                key = (content.order, (cavity.day, cavity.time, cavity.slot))
                before = found[key].count if key in found else Fraction()
                found[key] = _Held(content.medicine, before + content.quantity.count, content.quantity.unit, card.number)
    return found
