"""Dull, right examples that tests change in one place: a small medicines file, a person, an order, a bundle."""

import json
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from dosewright.core.interop.fhir_bundle import parse_bundle
from dosewright.core.interop.fhir_definitions import FhirDefinitions, parse_definitions
from dosewright.core.interop.medicine_csv import Catalogue, parse_medicines
from dosewright.core.interop.order_csv import parse_orders
from dosewright.core.interop.orders_in import OrdersIn, OrderSource
from dosewright.core.units.finding import Finding

SHIPPED = Path(__file__).parents[3] / "src" / "dosewright" / "shipped"

MEDICINES = """\
code,name,strength,form,shape,length_mm,width_mm,thickness_mm,colour,mark,maker,gtin,pack_size,flags,cautions
biso5,Bisoprolol,5 mg,tablet,biconvex,7,7,3.2,yellow,B 5,Brackmere,,28,,
biso2,Bisoprolol,2.5 mg,tablet,biconvex,6.5,6.5,3,white,B 2,Brackmere,,28,,
los50,Losartan,50 mg,tablet,oval,11.5,5.9,3.6,white,LS 50,Calder Vale,,28,,
amox,Amoxicillin,500 mg,capsule,capsule,21.4,7.66,7.66,maroon,AX,Fenwold,,21,,Finish the course
pred5,Prednisolone,5 mg,tablet,round,6.5,6.5,2.6,white,PD 5,Brackmere,,28,,"Take with food; in the morning"
codo,Co-careldopa,25 mg/100 mg,tablet,oval,9.5,6.4,3.2,yellow,,Northmoor,,100,time-critical,
lact,Lactulose,3.35 g per 5 mL,oral solution,,,,,,,Harrow Dale,,500,,
thyr,Levothyroxine,50 micrograms,tablet,round,7,7,2.5,white,LX,Brackmere,,28,,
"""


@cache
def definitions() -> FhirDefinitions:
    """The shipped R4 definitions."""
    return parse_definitions((SHIPPED / "fhir" / "r4.schema.json").read_text("utf-8"))


@cache
def catalogue() -> Catalogue:
    """The small medicines file."""
    return parse_medicines(MEDICINES, "medicines.csv")


def source(file: str = "orders.json", on: date | None = date(2026, 3, 2)) -> OrderSource:
    """As the plan command gives it, in the United Kingdom."""
    return OrderSource(file, catalogue().by_code(), "en", "GB", on)


def patient(known: str = "p1", **changes: Any) -> dict[str, Any]:
    """A person of full age with an official name."""
    name = [{"use": "official", "family": "Marsh", "given": ["Edith"]}]
    return {"resourceType": "Patient", "id": known, "name": name, "birthDate": "1941-05-06"} | changes


def timing(**changes: Any) -> dict[str, Any]:
    """Once a day in the morning, from a stated day."""
    return {"repeat": {"boundsPeriod": {"start": "2026-03-02"}, "frequency": 1, "period": 1, "periodUnit": "d", "when": ["MORN"]} | changes}


def dosage(**changes: Any) -> dict[str, Any]:
    """One tablet."""
    return {"timing": timing(), "doseAndRate": [{"doseQuantity": {"value": 1, "unit": "tablet"}}]} | changes


def coded(code: str, **changes: Any) -> dict[str, Any]:
    """A concept with one code."""
    return {"coding": [{"code": code}]} | changes


def request(known: str = "o1", **changes: Any) -> dict[str, Any]:
    """An active order of bisoprolol for `p1`. A change to None takes the element away."""
    made: dict[str, Any] = {
        "resourceType": "MedicationRequest",
        "id": known,
        "status": "active",
        "intent": "order",
        "medicationCodeableConcept": coded("biso5"),
        "subject": {"reference": "Patient/p1"},
        "dosageInstruction": [dosage()],
    }
    return {name: value for name, value in (made | changes).items() if value is not None}


def bundle(*resources: Any, **changes: Any) -> dict[str, Any]:
    """A collection of resources; one that has a key "resource" is taken as a whole entry."""
    entries = [held if "resource" in held else {"resource": held} for held in resources]
    return {"resourceType": "Bundle", "type": "collection", "entry": entries} | changes


def received(*resources: Any, on: date | None = date(2026, 3, 2), **changes: Any) -> OrdersIn:
    """What the bundle of these resources gives."""
    return parse_bundle(json.dumps(bundle(*resources, **changes)), source(on=on), definitions())


def from_csv(text: str, on: date | None = date(2026, 3, 2)) -> OrdersIn:
    """What an orders file gives."""
    return parse_orders(text, source("orders.csv", on))


def codes(findings: tuple[Finding, ...]) -> list[str]:
    """The codes of findings, in order."""
    return [found.code for found in findings]


def order_ids(found: OrdersIn) -> list[str]:
    """The ids of the orders that may be scheduled."""
    return [order.id for order in found.orders]
