"""The R4 definitions at the border. Sources: HL7 FHIR R4 (4.0.1) datatypes, JSON representation, element definitions."""

import json
import time
from typing import Any

import pytest
from tests.core.interop.interop_makers import SHIPPED, definitions, dosage, patient, request, timing

FAULTY = [
    pytest.param({"status": 7}, "resource.wrong-type", "MedicationRequest.status", id="a number for a code"),
    pytest.param({"status": ""}, "resource.wrong-form", "MedicationRequest.status", id="empty text"),
    pytest.param({"doNotPerform": "true"}, "resource.wrong-type", "MedicationRequest.doNotPerform", id="text for a truth"),
    pytest.param({"subject": "Patient/p1"}, "resource.wrong-type", "MedicationRequest.subject", id="text for an object"),
    pytest.param({"subject": False}, "resource.wrong-type", "MedicationRequest.subject", id="a truth for an object"),
    pytest.param({"identifier": {"value": "1"}}, "resource.wrong-type", "MedicationRequest.identifier", id="an object for a list"),
    pytest.param({"authoredOn": "2026-02-30T25:00:00Z"}, "resource.wrong-form", "MedicationRequest.authoredOn", id="hour 25"),
    pytest.param({"authoredOn": "2026-02-03T10:00:00"}, "resource.wrong-form", "MedicationRequest.authoredOn", id="a time without a zone"),
    pytest.param({"id": "a b"}, "resource.wrong-form", "MedicationRequest.id", id="a blank in an id"),
    pytest.param({"id": "x" * 65}, "resource.wrong-form", "MedicationRequest.id", id="an id of 65 characters"),
    pytest.param({"note": [{"authorString": "x"}]}, "resource.missing-element", "MedicationRequest.note[0]", id="a remark without words"),
    pytest.param({"extension": [{"valueBoolean": True}]}, "resource.missing-element", "MedicationRequest.extension[0]", id="no url"),
    pytest.param(
        {"extension": [{"url": "u", "valueBoolean": True, "valueCode": "x"}]},
        "resource.one-of",
        "MedicationRequest.extension[0]",
        id="two values",
    ),
    pytest.param(
        {"reportedBoolean": False, "reportedReference": {"display": "x"}}, "resource.one-of", "MedicationRequest", id="reported[x]"
    ),
    pytest.param({"medicationCodeableConcept": None}, "resource.one-of", "MedicationRequest", id="medication[x] is missing"),
    pytest.param(
        {"dosageInstruction": [dosage(asNeededBoolean=True, asNeededCodeableConcept={"text": "x"})]},
        "resource.one-of",
        "MedicationRequest.dosageInstruction[0]",
        id="asNeeded[x]",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(timing=timing(frequency=2**31))]},
        "resource.wrong-value",
        "MedicationRequest.dosageInstruction[0].timing.repeat.frequency",
        id="beyond 32 bits",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(timing=timing(offset=-1))]},
        "resource.wrong-value",
        "MedicationRequest.dosageInstruction[0].timing.repeat.offset",
        id="unsigned",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(timing=timing(when=["TEATIME"]))]},
        "resource.wrong-value",
        "MedicationRequest.dosageInstruction[0].timing.repeat.when[0]",
        id="an event that R4 has not",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(timing=timing(timeOfDay=["8:00"]))]},
        "resource.wrong-form",
        "MedicationRequest.dosageInstruction[0].timing.repeat.timeOfDay[0]",
        id="a time without seconds",
    ),
    pytest.param(
        {"language": None, "text": {"status": "generated"}}, "resource.missing-element", "MedicationRequest.text", id="no narrative"
    ),
    pytest.param({"requester": {"display": "   "}}, "resource.empty", "MedicationRequest.requester.display", id="blanks only"),
    pytest.param({"requester": {}}, "resource.empty", "MedicationRequest.requester", id="an empty object"),
    pytest.param({"category": [None]}, "resource.wrong-type", "MedicationRequest.category[0]", id="null"),
]


@pytest.mark.parametrize(("change", "code", "path"), FAULTY)
def test_each_breach_is_found_with_its_path(change: dict[str, Any], code: str, path: str) -> None:
    faults = definitions().check(request(**change), "MedicationRequest")
    assert (code, path) in [(fault.code, fault.path) for fault in faults]


# Structures as on the standard's page "MedicationRequest", its examples restated with other people and codes.
EXAMPLES = [
    pytest.param(request(), id="one tablet in the morning"),
    pytest.param(
        request(
            identifier=[{"use": "official", "system": "http://a.example/rx", "value": "12345689"}],
            priority="routine",
            encounter={"reference": "Encounter/f001"},
            authoredOn="2015-01-15",
            requester={"reference": "Practitioner/f007", "display": "Patrick Pump"},
            reasonCode=[{"coding": [{"system": "http://snomed.info/sct", "code": "128045006", "display": "Cellulitis (disorder)"}]}],
            insurance=[{"reference": "Coverage/9876B1"}],
            note=[{"text": "Patient told to take with food"}],
            dispenseRequest={
                "validityPeriod": {"start": "2015-01-15", "end": "2016-01-15"},
                "numberOfRepeatsAllowed": 1,
                "quantity": {"value": 43, "unit": "TAB", "code": "TAB"},
                "expectedSupplyDuration": {"value": 40, "unit": "days", "system": "http://unitsofmeasure.org", "code": "d"},
            },
            substitution={"allowedBoolean": True, "reason": {"text": "formulary policy"}},
        ),
        id="with supply and substitution",
    ),
    pytest.param(
        request(
            dosageInstruction=[
                {
                    "sequence": 1,
                    "text": "Take 4 tablets daily for 7 days starting January 16, 2015",
                    "additionalInstruction": [
                        {"coding": [{"system": "http://snomed.info/sct", "code": "418914006", "display": "Warning"}]}
                    ],
                    "timing": {
                        "repeat": {
                            "boundsPeriod": {"start": "2015-01-16", "end": "2015-01-20"},
                            "frequency": 1,
                            "period": 1,
                            "periodUnit": "d",
                        }
                    },
                    "route": {"coding": [{"system": "http://snomed.info/sct", "code": "26643006", "display": "Oral Route"}]},
                    "method": {"text": "Swallow"},
                    "doseAndRate": [
                        {
                            "type": {"coding": [{"system": "http://terminology.hl7.org/CodeSystem/dose-rate-type", "code": "ordered"}]},
                            "doseQuantity": {"value": 4, "unit": "TAB", "system": "http://unitsofmeasure.org", "code": "{tbl}"},
                        }
                    ],
                },
                {
                    "sequence": 2,
                    "asNeededCodeableConcept": {"text": "pain"},
                    "maxDosePerPeriod": {"numerator": {"value": 4}, "denominator": {"value": 1}},
                },
            ]
        ),
        id="a taper in steps",
    ),
    pytest.param(
        request(_status={"extension": [{"url": "u", "valueCode": "unknown"}]}, status=None), id="a status that is only an extension"
    ),
]


@pytest.mark.parametrize("resource", EXAMPLES)
def test_published_structures_keep_their_definition(resource: dict[str, Any]) -> None:
    assert definitions().check(resource, "MedicationRequest") == ()


def test_all_that_is_wrong_is_said_at_once_and_bounded() -> None:
    many = definitions().check(request(status=1, intent=2, priority=3, authoredOn=4), "MedicationRequest")
    assert len(many) == 4
    endless = definitions().check(request(note=[{} for _ in range(500)]), "MedicationRequest")
    assert len(endless) == 20


def test_hostile_text_needs_no_time() -> None:
    """The published pattern for base64 would try more ways to divide the blanks than there are atoms."""
    photo = patient(photo=[{"data": "AAAA" + "  AAAA" * 2000 + "!"}])
    began = time.process_time()
    assert [fault.code for fault in definitions().check(photo, "Patient")] == ["resource.wrong-form"]
    assert time.process_time() - began < 5


def test_a_real_picture_is_no_breach() -> None:
    assert definitions().check(patient(photo=[{"contentType": "image/png", "data": "iVBORw0KGgo/AA+B"}]), "Patient") == ()


def test_an_extension_as_deep_as_json_may_be_is_checked() -> None:
    deep: dict[str, Any] = {"url": "u", "valueBoolean": True}
    for _ in range(28):
        deep = {"url": "u", "extension": [deep]}
    assert definitions().check(request(extension=[deep]), "MedicationRequest") == ()


def test_the_shipped_definitions_are_of_4_0_1_and_reach_what_is_read() -> None:
    schema = json.loads((SHIPPED / "fhir" / "r4.schema.json").read_text("utf-8"))
    assert schema["id"] == "http://hl7.org/fhir/json-schema/4.0"
    assert "version 4.0.1" in (SHIPPED / "fhir" / "ORIGIN.txt").read_text("utf-8")
    assert {"Bundle", "Medication", "MedicationRequest", "Patient", "Dosage", "Timing_Repeat"} <= set(schema["definitions"])
    references = {one for definition in schema["definitions"].values() for one in _references(definition)}
    assert references <= set(schema["definitions"])


def _references(node: Any) -> list[str]:
    if isinstance(node, dict):
        own = [node["$ref"].removeprefix("#/definitions/")] if isinstance(node.get("$ref"), str) else []
        return own + [found for child in node.values() for found in _references(child)]
    return [found for child in node for found in _references(child)] if isinstance(node, list) else []
