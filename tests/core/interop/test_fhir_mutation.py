"""A right bundle, spoilt anywhere: never an exception, and never an order used whose resource breaks the R4 definitions.

The oracle is the jsonschema library as it comes, with the shipped schema, sharing nothing with the checker under test but the file.
"""

import copy
import json
import re
from typing import Any

import jsonschema
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.core.interop.interop_makers import SHIPPED, bundle, coded, definitions, dosage, patient, request, source, timing

from dosewright.core.interop.fhir_bundle import parse_bundle
from dosewright.core.interop.orders_in import OrdersIn
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Severity

SCHEMA = json.loads((SHIPPED / "fhir" / "r4.schema.json").read_text("utf-8"))
ORACLE = jsonschema.Draft6Validator({"$ref": "#/definitions/MedicationRequest", "definitions": SCHEMA["definitions"]})
EXTENSION = {"url": "http://example.org/x", "valueBoolean": True}


def right_bundle() -> dict[str, Any]:
    """Three people; orders by code, by reference and contained, with structure, with words, one after another, and one that is over."""
    medication = {
        "resourceType": "Medication",
        "id": "m1",
        "code": coded("los50", text="Losartan 50 mg tablets"),
        "ingredient": [
            {
                "itemCodeableConcept": {"text": "losartan"},
                "strength": {"numerator": {"value": 50, "unit": "mg"}, "denominator": {"value": 1}},
            }
        ],
    }
    evening = timing(when=["EVE"], boundsPeriod={"start": "2026-03-16"})
    return bundle(
        {"fullUrl": "urn:uuid:0001", "resource": patient(address=[{"line": ["3 Tern Street"], "city": "Saltmarsh"}])},
        patient("p2", name=[{"text": "Harold Finch"}]),
        patient("p3", name=[{"family": "Low", "given": ["Bea"]}]),
        medication,
        {"resource": request("o1", subject={"reference": "urn:uuid:0001", "display": "Marsh"}, authoredOn="2026-02-01T10:00:00Z")},
        request("o2", priorPrescription={"reference": "MedicationRequest/o1"}, dosageInstruction=[dosage(timing=evening)]),
        request(
            "o3", subject={"reference": "Patient/p2"}, medicationCodeableConcept=None, medicationReference={"reference": "Medication/m1"}
        ),
        request(
            "o4",
            subject={"reference": "Patient/p2"},
            medicationCodeableConcept=None,
            medicationReference={"reference": "#c"},
            contained=[{"resourceType": "Medication", "id": "c", "code": coded("amox")}],
            dosageInstruction=[{"text": "Take 1 capsule three times a day", "additionalInstruction": [{"text": "Finish the course"}]}],
        ),
        request("o5", subject={"reference": "Patient/p3"}, status="stopped"),
        request(
            "o6",
            subject={"reference": "Patient/p3"},
            medicationCodeableConcept=coded("pred5"),
            dosageInstruction=[
                dosage(sequence=1, timing=timing(boundsDuration={"value": 5, "unit": "days", "code": "d"}, boundsPeriod=None)),
                dosage(sequence=2, timing=timing(dayOfWeek=["mon"], when=None)),
            ],
            dispenseRequest={"validityPeriod": {"start": "2026-01-01", "end": "2026-12-31"}},
        ),
    )


def without_nulls(node: Any) -> Any:
    """The builders take an element away by None."""
    if isinstance(node, dict):
        return {name: without_nulls(child) for name, child in node.items() if child is not None}
    return [without_nulls(child) for child in node] if isinstance(node, list) else node


RIGHT = without_nulls(right_bundle())


def places(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every node below the top."""
    steps = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    return [found for step, child in steps for found in ((*path, step), *places(child, (*path, step)))]


PLACES = places(RIGHT)
JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-5, 5),
    st.sampled_from(
        [
            10**12,
            -1,
            0,
            "",
            " ",
            "\n",
            "active",
            "Patient/p1",
            "#c",
            "#",
            "2026-02-30",
            "\u202e",
            "1e9",
            "x" * 300,
            [],
            {},
            [[]],
            [{}],
            [None],
        ]
    ),
    st.just({"reference": "MedicationRequest/o1"}),
    st.just({"resourceType": "Bundle"}),
    st.text(max_size=8),
    st.just(EXTENSION),
)
WAYS = st.sampled_from(["delete", "replace", "repeat", "rename", "add", "modify"])


@st.composite
def spoilt(draw: st.DrawFn) -> dict[str, Any]:
    """The right bundle with one to three nodes taken away, replaced, repeated, renamed or added to."""
    spoiling: dict[str, Any] = copy.deepcopy(RIGHT)
    for _ in range(draw(st.integers(1, 3))):
        path = draw(st.sampled_from(PLACES))
        spoil(spoiling, path, draw(WAYS), copy.deepcopy(draw(JUNK)))
    return spoiling


def spoil(top: Any, path: tuple[Any, ...], way: str, junk: Any) -> None:
    """One change at one place; nothing where an earlier change took the place away."""
    parent, last = top, path[-1]
    for step in path[:-1]:
        if not has(parent, step):
            return
        parent = parent[step]
    if has(parent, last):
        change(parent, last, way, junk)


def has(node: Any, step: Any) -> bool:
    return (isinstance(node, dict) and step in node) or (isinstance(node, list) and isinstance(step, int) and step < len(node))


def change(parent: Any, last: Any, way: str, junk: Any) -> None:
    held = parent[last]
    if way == "delete":
        del parent[last]
    elif way == "repeat" and isinstance(parent, list):
        parent.append(copy.deepcopy(held))
    elif way == "rename" and isinstance(parent, dict):
        parent[f"{last}x"] = parent.pop(last)
    elif way == "add" and isinstance(held, dict):
        held["unheardOf"] = junk
    elif way == "modify" and isinstance(held, dict):
        held["modifierExtension"] = [dict(EXTENSION)]
    else:
        parent[last] = junk


def parse(changed: dict[str, Any]) -> OrdersIn:
    return parse_bundle(json.dumps(changed), source(), definitions())


def resources(changed: dict[str, Any], known: str) -> list[dict[str, Any]]:
    """The bundle's orders of that id, as they stand there."""
    entries = [entry for entry in changed.get("entry", []) if isinstance(entry, dict)]
    held = [entry["resource"] for entry in entries if isinstance(entry.get("resource"), dict)]
    return [one for one in held if one.get("resourceType") == "MedicationRequest" and one.get("id") == known]


def test_the_right_bundle_is_right() -> None:
    found = parse(RIGHT)
    assert [order.id for order in found.orders] == ["o1", "o2", "o3", "o4", "o6"]
    assert all(one.severity is Severity.NOTE for one in found.findings), found.findings


@given(spoilt())
@settings(max_examples=4 * settings().max_examples)
def test_a_spoilt_bundle_is_findings_and_no_broken_order_is_used(changed: dict[str, Any]) -> None:
    if changed.get("resourceType") != "Bundle":
        return
    found = parse(changed)
    assert all(say(one) for one in found.findings)
    for order in found.orders:
        (resource,) = resources(changed, order.id)
        assert not list(ORACLE.iter_errors(resource))
        assert resource["status"] == "active"
        assert "modifierExtension" not in re.sub(r'"contained": \[.*?\]', "", json.dumps(resource))
        assert order.person in {person.id for person in found.people}


@given(st.sampled_from(PLACES), st.data())
@settings(max_examples=3 * settings().max_examples // 2)
def test_a_modifier_anywhere_in_an_order_stops_that_order(path: tuple[Any, ...], data: st.DataObject) -> None:
    """R4, Extensibility: a modifier that is not known must not be passed over, wherever it stands."""
    changed = copy.deepcopy(RIGHT)
    orders = [entry["resource"] for entry in changed["entry"] if entry["resource"]["resourceType"] == "MedicationRequest"]
    resource = data.draw(st.sampled_from([one for one in orders if one["status"] == "active"]))
    inside = [resource, *(node for node in nodes(resource) if isinstance(node, dict))]
    data.draw(st.sampled_from(inside))["modifierExtension"] = [dict(EXTENSION)]
    found = parse(changed)
    assert resource["id"] not in {order.id for order in found.orders}
    assert any(one.where.get("order") == resource["id"] and one.severity is Severity.STOP for one in found.findings)


def nodes(node: Any) -> list[Any]:
    children = list(node.values()) if isinstance(node, dict) else node if isinstance(node, list) else []
    return [found for child in children for found in (child, *nodes(child))]


@given(st.sampled_from([path for path in PLACES if len(path) >= 3 and path[2] == "resource"]))
@settings(max_examples=3 * settings().max_examples // 2)
def test_what_is_spoilt_in_one_resource_changes_no_other_persons_orders(path: tuple[Any, ...]) -> None:
    changed = copy.deepcopy(RIGHT)
    owner = changed["entry"][path[1]]["resource"]
    touched = {"Patient": owner["id"], "Medication": "p2"}.get(owner["resourceType"], "")
    who = touched or {"urn:uuid:0001": "p1", "Patient/p1": "p1", "Patient/p2": "p2", "Patient/p3": "p3"}[owner["subject"]["reference"]]
    spoil(changed, path, "delete", None)
    kept = {order.id: order for order in parse(changed).orders if order.person not in (who, "0001")}
    assert kept == {order.id: order for order in parse(RIGHT).orders if order.person != who}
