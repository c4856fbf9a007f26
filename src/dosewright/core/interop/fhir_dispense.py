"""A card that was released → FHIR R4 MedicationDispense resources, one for each order and lot in it.

Comes in: the card as planned, everything that happened to it, whose it is, its orders. Goes out: JSON objects in a fixed order. Told is
what lay in the card when a pharmacist last released it; what was given of it since is the administration record's to say. Nothing points
at a resource that nobody serves: person and order are named by their identifiers, the product with its lot is contained.
Source: HL7 FHIR R4 (4.0.1) MedicationDispense, its status and performer-function code systems.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from dosewright.core.custody.event import CardEvent, Deed
from dosewright.core.custody.state import CardState, state_of
from dosewright.core.interop.dosage_json import format_dosage
from dosewright.core.interop.json_text import Writable
from dosewright.core.interop.timing_format import format_number
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card
from dosewright.core.regimen.order import Order
from dosewright.core.supply.placement import Placed
from dosewright.core.units.ids import Lot, MedicineCode, OrderId
from dosewright.core.units.person import Person

__all__ = ["DispensedCard", "format_dispenses"]

_FUNCTIONS = "http://terminology.hl7.org/CodeSystem/medicationdispense-performer-function"
_Resource = dict[str, Writable]


@dataclass(frozen=True, slots=True)
class DispensedCard:
    """`events` are the card's, from the first; `orders` those with something in it, each by its id here with the id it came with."""

    card: Card
    events: tuple[CardEvent, ...]
    person: Person
    orders: Mapping[OrderId, tuple[Order, str]]
    medicines: Mapping[MedicineCode, Medicine]


def format_dispenses(found: DispensedCard) -> tuple[_Resource, ...]:
    """By order, then lot; nothing for a card that was never released. Raises ValueError for an amount that no decimal number is."""
    released = [place for place, event in enumerate(found.events) if event.deed is Deed.RELEASED]
    if not released:
        return ()
    until = found.events[: released[-1] + 1]
    held: dict[tuple[OrderId, Lot], list[Placed]] = defaultdict(list)
    for units in state_of(found.card.number, until).placed:
        held[units.cell.order, units.lot].append(units)
    return tuple(_dispense(found, until, number, held[key]) for number, key in enumerate(sorted(held), start=1))


def _dispense(found: DispensedCard, until: tuple[CardEvent, ...], number: int, mine: list[Placed]) -> _Resource:
    """`mine`: the units of one order and one lot."""
    order, lot = mine[0].cell.order, mine[0].lot
    asked, source = found.orders[order]
    medicine = found.medicines[mine[0].medicine]
    days = {cavity.day for cavity in found.card.cavities if any((cavity.row, cavity.column) == _place(units) for units in mine)}
    checked, gone = _latest(until, Deed.CHECKED), _latest(found.events[len(until) :], Deed.HANDED_OVER)
    return _filled(
        {
            "resourceType": "MedicationDispense",
            "id": f"{found.card.number}-{number}",
            "contained": [_product(medicine, lot, mine[0].expiry)],
            "identifier": [{"value": found.card.number}],
            "status": _status(state_of(found.card.number, found.events), handed_over=gone is not None),
            "medicationReference": {"reference": "#product"},
            "subject": {"type": "Patient", "identifier": {"value": found.person.id}, "display": found.person.name},
            "performer": _performers(until),
            "authorizingPrescription": [{"type": "MedicationRequest", "identifier": {"value": source}}],
            "quantity": {"value": format_number(sum((units.amount for units in mine), Fraction(0))), "unit": str(medicine.unit)},
            "daysSupply": None if found.card.as_needed else {"value": len(days), "unit": "day", **_DAY},
            "whenPrepared": _moment(checked.at) if checked else None,
            "whenHandedOver": _moment(gone.at) if gone else None,
            "receiver": [{"display": str(gone.facts["to"])}] if gone else [],
            "dosageInstruction": [format_dosage(dosage) for dosage in asked.dosages],
        }
    )


_DAY = {"system": "http://unitsofmeasure.org", "code": "d"}


def _place(units: Placed) -> tuple[int, int]:
    return units.cell.row, units.cell.column


def _product(medicine: Medicine, lot: Lot, expiry: date) -> _Resource:
    code: _Resource = {"coding": [{"code": medicine.code, "display": medicine.label}], "text": medicine.label}
    batch: _Resource = {"lotNumber": lot, "expirationDate": expiry.isoformat()}
    return {"resourceType": "Medication", "id": "product", "code": code, "batch": batch}


def _status(now: CardState, *, handed_over: bool) -> str:
    """Handed over is completed, whatever came back; before that it is under way, held while its orders have changed, or called off."""
    if handed_over:
        return "completed"
    return "cancelled" if now.over else "on-hold" if now.out_of_date else "in-progress"


def _performers(events: Iterable[CardEvent]) -> list[Writable]:
    functions = {Deed.PLACED: "packager", Deed.CHECKED: "checker", Deed.RELEASED: "finalchecker"}
    found = dict.fromkeys((functions[event.deed], event.by.name) for event in events if event.deed in functions)
    return [{"function": {"coding": [{"system": _FUNCTIONS, "code": code}]}, "actor": {"display": name}} for code, name in sorted(found)]


def _latest(events: Iterable[CardEvent], deed: Deed) -> CardEvent | None:
    return next((event for event in reversed(tuple(events)) if event.deed is deed), None)


def _moment(at: datetime) -> str:
    """An instant as FHIR writes it, to the second: "2026-03-02T09:20:00+00:00"."""
    return at.isoformat(timespec="seconds")


def _filled(fields: Mapping[str, Writable]) -> _Resource:
    """Without what is not there: FHIR knows no empty element."""
    return {name: value for name, value in fields.items() if value not in (None, [], "")}
