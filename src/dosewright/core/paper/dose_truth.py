"""What must be read on round lists and administration records, worked out again from cavities and orders, not from what was drawn (R6)."""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.medicines.amounts import NotCountable, units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.dates import clock
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import form_beyond_unit, named, named_short, placed_words
from dosewright.core.paper.page import About
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit, format_amount

__all__ = ["fill_truth", "record_truth", "round_truth"]

_Moment = tuple[date, time, SlotName, OrderId, Unit, str]  # the last: the card, "" for a pack of its own


def round_truth(material: Material, day: date, slots: Sequence[SlotName]) -> Truth:
    """Every dose of one person on one day, with where it lies."""
    person = material.plan.people[0]
    found: dict[About, str] = {}
    for (on, _, slot, order, unit, card), (count, medicine) in _doses(person, material, day, 1).items():
        if count and (not slots or slot in slots):
            amount = placed_words(medicine, Quantity(count, unit), number_style(material))
            parts = (amount, named_short(medicine, material.country), form_beyond_unit(medicine))
            found["round", person.person, on.isoformat(), str(slot), order, card] = " ".join(part for part in parts if part)
    return Truth({**found, **_needed(material, day)})


def _needed(material: Material, day: date) -> dict[About, str]:
    """What may be given when needed: from the cards whose cavities hold it and keep until then, else from its own pack."""
    person = material.plan.people[0]
    timetable = material.request.timetable_of(material.person(person.person))
    found: dict[About, str] = {}
    for order in material.request.orders_of(person.person):
        if expand(order, timetable, day, 1).status is ExpansionStatus.AS_NEEDED and _runs_on(order, day):
            found["needed", person.person, day.isoformat(), order.id] = _where(order, person, material, day)
    return found


def _where(order: Order, person: PersonPlan, material: Material, day: date) -> str:
    medicine = material.medicine(order.medicine)
    held = [
        (card.number, content.quantity)
        for card in person.cards
        if card.as_needed and card.first <= day
        for cavity in card.cavities
        if day <= cavity.day
        for content in cavity.contents
        if content.order == order.id
    ]
    if not held:
        return f"{named(medicine, material.country)}, from its own pack."
    doses = " or ".join(sorted({placed_words(medicine, quantity, number_style(material)) for _, quantity in held}))
    name = " ".join(part for part in (named_short(medicine, material.country), form_beyond_unit(medicine)) if part)
    return f"{doses} {name}, from card {' or '.join(dict.fromkeys(number for number, _ in held))}, one cavity a dose."


def _runs_on(order: Order, day: date) -> bool:
    return (order.since is None or order.since.day <= day) and (order.until is None or order.until.day >= day)


def fill_truth(person: PersonPlan) -> Truth:
    """What each fill map must say to place in each cavity of each card."""
    sums: dict[About, Fraction] = defaultdict(Fraction)
    for card in person.cards:
        for cavity in card.cavities:
            for content in cavity.contents:
                about = ("fill", person.person, content.medicine, card.number, str(cavity.row), str(cavity.column))
                sums[about] += content.quantity.count
    return Truth({about: format_count(count) for about, count in sums.items()})


def record_truth(person: PersonPlan, material: Material, stretches: Sequence[Sequence[date]]) -> Truth:
    """Every row's dosing time and amount, and for each day whether its box is open (due) or hatched."""
    request = material.request
    due: dict[tuple[time, SlotName, OrderId, Quantity], set[date]] = defaultdict(set)
    sums: dict[tuple[date, time, SlotName, OrderId, Unit], Fraction] = defaultdict(Fraction)
    medicines: dict[OrderId, Medicine] = {}
    for (day, at, slot, order, unit, _), (count, medicine) in _doses(person, material, request.first, request.days).items():
        sums[day, at, slot, order, unit] += count
        medicines[order] = medicine
    for (day, at, slot, order, unit), count in sums.items():
        if count:
            due[at, slot, order, Quantity(count, unit)].add(day)
    texts: dict[About, str] = {}
    boxes: dict[About, bool] = {}
    for (at, slot, order, quantity), days in due.items():
        about = ("row", person.person, order, clock(at), str(slot), format_amount(quantity.count), str(quantity.unit))
        for stretch in stretches:
            amount = placed_words(medicines[order], quantity, "digits")
            texts[(*about, f"from {stretch[0].isoformat()}")] = f"{clock(at)} {slot} {amount}"
            boxes |= {(*about, day.isoformat()): day not in days for day in stretch}
    return Truth(texts, boxes)


def _doses(person: PersonPlan, material: Material, first: date, days: int) -> dict[_Moment, tuple[Fraction, Medicine]]:
    """Every dose of the days: what lies in the cards, and by the orders what no card has."""
    found: dict[_Moment, tuple[Fraction, Medicine]] = {}

    def add(moment: _Moment, count: Fraction, medicine: Medicine) -> None:
        found[moment] = (found.get(moment, (Fraction(), medicine))[0] + count, medicine)

    timetable = material.request.timetable_of(material.person(person.person))
    status = {order.id: expand(order, timetable, first, days) for order in material.request.orders_of(person.person)}
    last = first + timedelta(days=days - 1)
    packed: set[OrderId] = set()
    carded: set[date] = set()
    as_they_were: set[date] = set()
    for card in person.scheduled:
        of_card = {card.first + timedelta(days=n) for n in range((card.last - card.first).days + 1)}
        carded |= of_card
        as_they_were |= of_card if card.number in material.waiting else set()
        for cavity in card.cavities:
            packed |= {content.order for content in cavity.contents}
            if not first <= cavity.day <= last:
                continue
            for content in cavity.contents:
                if status[content.order].status is not ExpansionStatus.AS_NEEDED:
                    moment = (cavity.day, cavity.time, cavity.slot, content.order, content.quantity.unit, str(card.number))
                    add(moment, content.quantity.count, material.medicine(content.medicine))
    for order, expansion in status.items():
        for dose in expansion.doses:
            with_the_next = dose.day in as_they_were and all(line.order != order for line in person.alongside)
            if (order in packed and dose.day in carded) or with_the_next:
                continue
            medicine = material.medicine(dose.medicine)
            units = units_of(dose.quantity, medicine)
            count, unit = (dose.quantity.count, dose.quantity.unit) if isinstance(units, NotCountable) else (units, medicine.unit)
            add((dose.day, dose.time, dose.slot, order, unit, ""), count, medicine)
    return found
