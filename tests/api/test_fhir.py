"""FHIR R4 in and out: a bundle of MedicationRequests through the same border as files, released cards as MedicationDispense."""

import json
from typing import Any

from tests import small_bench as bench
from tests.api.conftest import Programs

from dosewright.core.custody.event import Role
from dosewright.devices.definitions import load_definitions
from dosewright.store.orders import load_waiting
from dosewright.store.stock import load_movements


def bundle(**changed: Any) -> bytes:
    """One person's order as another system sends it."""
    request = {
        "resourceType": "MedicationRequest",
        "id": "MR7",
        "status": "active",
        "intent": "order",
        "medicationCodeableConcept": {"coding": [{"code": "bisoprolol-5"}]},
        "subject": {"reference": "Patient/p9"},
        "dosageInstruction": [{"text": "Take 1 tablet in the morning"}],
        **changed,
    }
    person = {"resourceType": "Patient", "id": "p9", "name": [{"text": "Arthur Bellweather"}], "birthDate": "1941-05-06"}
    return json.dumps({"resourceType": "Bundle", "type": "collection", "entry": [{"resource": person}, {"resource": request}]}).encode()


def test_a_bundle_comes_in_through_the_same_border_as_a_file(programs: Programs) -> None:
    bench.opened()
    program = programs(Role.TECHNICIAN)
    status, body = program.post("/orders?name=from+the+surgery", bundle(), kind="application/fhir+json")
    assert (status, body["done"]) == (200, True), body
    (waiting,) = load_waiting()
    assert (waiting.order.id, waiting.file, waiting.order.text) == ("MR7", "from the surgery", "Take 1 tablet in the morning")


def test_a_bundle_that_breaks_the_standard_is_answered_with_its_findings(programs: Programs) -> None:
    bench.opened()
    status, body = programs(Role.TECHNICIAN).post("/orders", bundle(status=None), kind="application/fhir+json")
    assert (status, body["done"]) == (422, False)
    assert all({"code", "severity", "where", "facts", "message"} <= set(finding) for finding in body["findings"])
    assert load_waiting() == ()


def test_released_cards_go_out_as_dispenses_that_keep_the_definitions(programs: Programs) -> None:
    card = bench.handed_over()
    program, definitions = programs(Role.INSPECTOR), load_definitions()
    status, found = program.get(f"/fhir/MedicationDispense?card={card}")
    assert (status, found["type"], found["total"]) == (200, "searchset", 2)
    assert definitions.check(found, "Bundle") == ()
    for entry in found["entry"]:
        assert definitions.check(entry["resource"], "MedicationDispense") == ()
        assert program.get(f"/fhir/MedicationDispense/{entry['resource']['id']}") == (200, entry["resource"])
    said = {one["resource"]["contained"][0]["batch"]["lotNumber"]: one["resource"]["quantity"]["value"] for one in found["entry"]}
    assert said == {str(moved.lot): float(moved.amount) for moved in load_movements(card) if moved.kind.value == "placed"}
    assert program.get("/fhir/MedicationDispense?person=p1")[1]["total"] == 2
    assert program.get(f"/fhir/MedicationDispense/{card}-9")[0] == 404


def test_a_card_that_is_not_released_yet_gives_no_dispense(programs: Programs) -> None:
    card = bench.sealed()
    found = programs(Role.INSPECTOR).get(f"/fhir/MedicationDispense?card={card}")[1]
    assert (found["total"], "entry" in found) == (0, False)
