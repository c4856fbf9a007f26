"""Orders as files: a FHIR R4 bundle for some, a table for the others. Comes in: the orders. Goes out: text, the same every time."""

import csv
import io
from collections.abc import Iterable, Iterator
from datetime import date

from dosewright.config.demo.orders import DemoOrder
from dosewright.config.demo.sources import DemoPerson, Product, catalogue
from dosewright.core.interop.json_text import Writable, format_json

__all__ = ["bundle", "table"]

_CODES = "https://tern-street.example/medicines"
_ROW = ("person", "name", "born", "home", "room", "order", "medicine", "directions", "start", "stop", "prescriber", "rx_no")
Json = dict[str, Writable]


def bundle(people: Iterable[DemoPerson], orders: Iterable[DemoOrder]) -> str:
    """A collection: patients, the medications that are referred to, then the requests. One resource a line."""
    wanted = {person.id: person for person in people}
    mine = [order for order in orders if order.person in wanted]
    products = [catalogue()[code] for code in sorted({order.medicine for order in mine} & set(catalogue()))]
    resources = [*map(_patient, wanted.values()), *map(_medication, products), *map(_request, mine)]
    entries = ",\n".join(format_json({"resource": resource}) for resource in resources)
    return f'{{"resourceType": "Bundle", "type": "collection", "entry": [\n{entries}\n]}}\n'


def table(people: Iterable[DemoPerson], orders: Iterable[DemoOrder]) -> str:
    """The contract's columns, one order a row."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(_ROW)
    rows.writerows(_rows({person.id: person for person in people}, orders))
    return out.getvalue()


def _rows(people: dict[str, DemoPerson], orders: Iterable[DemoOrder]) -> Iterator[tuple[str, ...]]:
    for order in orders:
        if person := people.get(order.person):
            who = (person.id, person.name, person.born.isoformat(), person.home, person.room)
            yield (*who, order.id, order.medicine, order.text, order.start.isoformat(), _day(order.stop), order.prescriber, order.rx_no)


def _day(day: date | None) -> str:
    return day.isoformat() if day else ""


def _patient(person: DemoPerson) -> Json:
    given, family = person.name.split(" ", 1)
    name: Json = {"use": "official", "text": person.name, "family": family, "given": [given]}
    address: Json = {"use": "home", "text": person.address}
    return {"resourceType": "Patient", "id": person.id, "name": [name], "birthDate": person.born.isoformat(), "address": [address]}


def _medication(product: Product) -> Json:
    coding: Json = {"system": _CODES, "code": product.code, "display": _label(product)}
    return {"resourceType": "Medication", "id": product.code, "code": {"coding": [coding], "text": _label(product)}}


def _request(order: DemoOrder) -> Json:
    return {
        "resourceType": "MedicationRequest",
        "id": order.id,
        "identifier": [{"system": f"{_CODES}/rx", "value": order.rx_no}],
        "status": "active",
        "intent": "order",
        **_medicine(order),
        "subject": {"reference": f"Patient/{order.person}"},
        "authoredOn": order.start.isoformat(),
        "requester": {"display": order.prescriber},
        "dosageInstruction": list(order.dosages),
    }


def _medicine(order: DemoOrder) -> Json:
    if order.product:
        concept: Json = {"coding": [{"system": _CODES, "code": order.medicine}], "text": order.product}
        return {"medicationCodeableConcept": concept}
    return {"medicationReference": {"reference": f"Medication/{order.medicine}"}}


def _label(product: Product) -> str:
    return f"{product.name} {product.strength} {product.form}"
