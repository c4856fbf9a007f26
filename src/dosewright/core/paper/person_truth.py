"""What must be read on the person's sheet, worked out again from cavities and orders, not from the rows that were drawn (R6, R15)."""

from collections import defaultdict
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.medicines.amounts import NotCountable, units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.dates import clock
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import sentence
from dosewright.core.paper.page import About
from dosewright.core.paper.person_words import changed_look, directions_in, name_in, purpose_of
from dosewright.core.paper.tongues.tongue import Tongue
from dosewright.core.paper.tongues.words import TONGUES, amount_in, cautions_in, days_in, looks_in
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit, format_amount

__all__ = ["person_truth"]

_At = tuple[date, time, SlotName, OrderId, Unit]


def person_truth(person: PersonPlan, material: Material, lang: str, before: tuple[Medicine, ...]) -> Truth:
    """Every row of every dosing time, and every sentence about every medicine, packed or not."""
    tongue = TONGUES[lang]
    return Truth({**_rows(person, material, tongue), **_sentences(person, material, tongue, before)})


def _rows(person: PersonPlan, material: Material, tongue: Tongue) -> dict[About, str]:
    packed: dict[_At, Fraction] = defaultdict(Fraction)
    medicines: dict[OrderId, Medicine] = {}
    for card in person.scheduled:
        for cavity in card.cavities:
            for content in cavity.contents:
                packed[cavity.day, cavity.time, cavity.slot, content.order, content.quantity.unit] += content.quantity.count
                medicines[content.order] = material.medicine(content.medicine)
    beside: dict[_At, Fraction] = defaultdict(Fraction)
    for line in person.alongside:
        medicine = medicines[line.order] = material.medicine(line.medicine)
        for day, at, slot, quantity in _doses(material.order(line.order), person, material):
            units = units_of(quantity, medicine)
            ordered = (quantity.count, quantity.unit)
            count, unit = ordered if isinstance(units, NotCountable) else (units, medicine.unit)
            beside[day, at, slot, line.order, unit] += count
    whose = (person, material, tongue)
    return {**_said(packed, medicines, whose, ""), **_said(beside, medicines, whose, tongue.own_pack)}


def _doses(order: Order, person: PersonPlan, material: Material) -> list[tuple[date, time, SlotName, Quantity]]:
    request = material.request
    doses = expand(order, request.timetable_of(material.person(person.person)), request.first, request.days).doses
    return [(dose.day, dose.time, dose.slot, dose.quantity) for dose in doses]


def _said(
    doses: dict[_At, Fraction], medicines: dict[OrderId, Medicine], whose: tuple[PersonPlan, Material, Tongue], where: str
) -> dict[About, str]:
    person, material, tongue = whose
    days: dict[tuple[time, SlotName, OrderId, Quantity], list[date]] = defaultdict(list)
    for (day, at, slot, order, unit), count in sorted(doses.items()):
        if count:
            days[at, slot, order, Quantity(count, unit)].append(day)
    first, last = material.request.first, material.request.first + timedelta(days=material.request.days - 1)
    found: dict[About, str] = {}
    for (at, slot, order, quantity), on in days.items():
        about = ("take", person.person, clock(at), str(slot), order, format_amount(quantity.count), str(quantity.unit))
        amount = amount_in(tongue, medicines[order], quantity, number_style(material))
        parts = (amount, name_in(tongue, medicines[order], material, short=True), days_in(tongue, on, first, last), where)
        found[about] = " ".join(part for part in parts if part)
    return found


def _sentences(person: PersonPlan, material: Material, tongue: Tongue, before: tuple[Medicine, ...]) -> dict[About, str]:
    codes = {content.order: content.medicine for card in person.cards for cavity in card.cavities for content in cavity.contents}
    codes |= {line.order: line.medicine for line in person.alongside}
    found: dict[About, str] = {}
    for order, code in codes.items():
        found |= _about(material.order(order), material.medicine(code), (person, material, tongue), before)
    return found


def _about(order: Order, medicine: Medicine, whose: tuple[PersonPlan, Material, Tongue], before: tuple[Medicine, ...]) -> dict[About, str]:
    person, material, tongue = whose
    key = (person.person, order.id)
    looks = looks_in(tongue, medicine).text
    said: dict[About, str] = {
        ("name", *key): name_in(tongue, medicine, material),
        ("changed", *key): changed_look(tongue, medicine, before),
        ("purpose", *key): tongue.purpose.format(a=sentence(purpose_of(order))) if purpose_of(order) else "",
        ("looks", *key): tongue.looks.format(a=f"{looks[:1].lower()}{sentence(looks)[1:]}") if looks else "",
    }
    directions = directions_in(tongue, order, material)
    said[("how", *key)] = tongue.how.format(a=directions) if directions else ""
    for number, caution in enumerate(cautions_in(tongue, medicine, material.country)):
        said[("caution", *key, str(number))] = sentence(caution.text)
    return {about: text for about, text in said.items() if text}
