"""FHIR R4 bundles: what is used, what is not, and that each fault is named with file, resource and path and costs nothing else.

Structures follow HL7 FHIR R4 (4.0.1): the pages MedicationRequest (with its examples), Medication, Patient, Bundle and References.
"""

import json
import re
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from tests.core.interop.interop_makers import (
    bundle,
    coded,
    codes,
    definitions,
    dosage,
    order_ids,
    patient,
    received,
    request,
    source,
    timing,
)

from dosewright.core.interop.fhir_bundle import NotABundle, parse_bundle
from dosewright.core.interop.json_text import JsonError
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Severity

EXTENSION = {"url": "http://example.org/only-if-well", "valueBoolean": True}


def test_a_plain_bundle_gives_its_person_and_its_order() -> None:
    found = received(patient(), request())
    assert found.findings == ()
    (person,), (order,) = found.people, found.orders
    assert (person.id, person.name, person.born) == ("p1", "Edith Marsh", date(1941, 5, 6))
    assert (order.id, order.person, order.medicine) == ("o1", "p1", "biso5")
    assert order.dosages[0].amounts[0].quantity is not None
    assert order.dosages[0].amounts[0].quantity.count == Fraction(1)
    assert order.since is None
    assert order.until is None


def test_the_texts_as_received_are_kept() -> None:
    given = dosage(text="Take ONE in the morning")
    order = received(
        patient(),
        request(dosageInstruction=[given], requester={"display": "Dr A. Lowe"}, identifier=[{"system": "urn:x", "value": "RX 77"}]),
    ).orders[0]
    assert (order.text, order.prescriber, order.rx_no) == ("Take ONE in the morning", "Dr A. Lowe", "RX 77")


# One broken order beside a right one: the finding, its path, and that the right one is untouched.
BROKEN = [
    pytest.param(
        {"modifierExtension": [EXTENSION]}, "resource.modifier-extension", "MedicationRequest.modifierExtension", id="modifier at the top"
    ),
    pytest.param(
        {"dosageInstruction": [dosage(modifierExtension=[EXTENSION])]},
        "resource.modifier-extension",
        "MedicationRequest.dosageInstruction[0].modifierExtension",
        id="modifier on a dosage",
    ),
    pytest.param(
        {"dispenseRequest": {"modifierExtension": [EXTENSION], "numberOfRepeatsAllowed": 1}},
        "resource.modifier-extension",
        "MedicationRequest.dispenseRequest.modifierExtension",
        id="modifier beside the directions",
    ),
    pytest.param({"implicitRules": "http://example.org/r"}, "resource.implicit-rules", "MedicationRequest.implicitRules", id="other rules"),
    pytest.param({"status": "unknown"}, "order.unknown-status", "MedicationRequest.status", id="status unknown"),
    pytest.param({"status": "running"}, "order.unknown-status", "MedicationRequest.status", id="status that R4 has not"),
    pytest.param({"status": None}, "resource.missing-element", "MedicationRequest", id="no status"),
    pytest.param({"intent": None}, "resource.missing-element", "MedicationRequest", id="no intent"),
    pytest.param({"intent": "wish"}, "order.unknown-intent", "MedicationRequest.intent", id="intent that R4 has not"),
    pytest.param({"doNotPerform": True}, "order.do-not-perform", "MedicationRequest.doNotPerform", id="not to be done"),
    pytest.param({"subject": {"reference": "Patient/p9"}}, "resource.dangling-reference", "MedicationRequest.subject", id="nobody"),
    pytest.param({"subject": {"display": "Edith Marsh"}}, "resource.dangling-reference", "MedicationRequest.subject", id="a name only"),
    pytest.param(
        {"subject": {"reference": "MedicationRequest/good"}},
        "resource.reference-of-other-type",
        "MedicationRequest.subject",
        id="no person",
    ),
    pytest.param(
        {"subject": {"reference": "Patient/p1", "display": "Harold Finch"}},
        "order.other-name",
        "MedicationRequest.subject",
        id="another name",
    ),
    pytest.param(
        {"medicationCodeableConcept": coded("nope")},
        "resource.unknown-medicine",
        "MedicationRequest.medicationCodeableConcept",
        id="unknown code",
    ),
    pytest.param(
        {"medicationCodeableConcept": {"text": "Bisoprolol 5 mg"}},
        "resource.no-code",
        "MedicationRequest.medicationCodeableConcept",
        id="words without a code",
    ),
    pytest.param(
        {"medicationCodeableConcept": {"coding": [{"code": "biso5"}, {"code": "biso2"}]}},
        "resource.several-medicines",
        "MedicationRequest.medicationCodeableConcept",
        id="two codes, two medicines",
    ),
    pytest.param(
        {"medicationCodeableConcept": coded("biso5", text="Bisoprolol 2.5 mg tablets")},
        "resource.strength-differs",
        "MedicationRequest.medicationCodeableConcept.text",
        id="another strength in words",
    ),
    pytest.param(
        {"medicationCodeableConcept": {"coding": [{"code": "pred5", "display": "Prednisone 5 mg"}]}},
        "resource.text-contradicts-code",
        "MedicationRequest.medicationCodeableConcept.coding[0].display",
        id="another name in words",
    ),
    pytest.param({"dosageInstruction": None}, "order.no-directions", "MedicationRequest.dosageInstruction", id="no directions"),
    pytest.param(
        {"dosageInstruction": [{"sequence": 1}]}, "order.no-directions", "MedicationRequest.dosageInstruction[0]", id="empty directions"
    ),
    pytest.param({"dosage": []}, "resource.unknown-element", "MedicationRequest", id="an element that R4 has not"),
    pytest.param(
        {"dosageInstruction": [dosage(asNeeded=True)]},
        "resource.unknown-element",
        "MedicationRequest.dosageInstruction[0]",
        id="asNeeded of R5",
    ),
    pytest.param({"authoredOn": "2026-13-40"}, "resource.wrong-form", "MedicationRequest.authoredOn", id="no such date"),
    pytest.param({"authoredOn": "2026-03-01\n"}, "resource.wrong-form", "MedicationRequest.authoredOn", id="a date and a line break"),
    pytest.param({"priority": 4}, "resource.wrong-type", "MedicationRequest.priority", id="a number for a code"),
    pytest.param({"note": []}, "resource.empty", "MedicationRequest.note", id="an empty list"),
    pytest.param({"encounter": None, "reasonCode": [{}]}, "resource.empty", "MedicationRequest.reasonCode[0]", id="an empty object"),
    pytest.param(
        {"medicationReference": {"reference": "#m"}},
        "resource.one-of",
        "MedicationRequest",
        id="two medicines, one by code and one by reference",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(timing=timing(count=0))]},
        "resource.wrong-value",
        "MedicationRequest.dosageInstruction[0].timing.repeat.count",
        id="count of nothing",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(timing=timing(frequency=1.5))]},
        "resource.wrong-type",
        "MedicationRequest.dosageInstruction[0].timing.repeat.frequency",
        id="one and a half times a day",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(doseAndRate=[{"doseQuantity": {"value": -1, "unit": "tablet"}}])]},
        "fhir.below-zero",
        "MedicationRequest.dosageInstruction[0].doseAndRate[0].doseQuantity",
        id="less than nothing",
    ),
    pytest.param(
        {"dosageInstruction": [dosage(text="Take one\u202e gnirom eht ni")]},
        "resource.forbidden-character",
        "MedicationRequest.dosageInstruction[0]",
        id="text that is turned round",
    ),
    pytest.param(
        {"dispenseRequest": {"validityPeriod": {"end": "2026-03-01"}}},
        "order.no-longer-valid",
        "MedicationRequest.dispenseRequest.validityPeriod",
        id="may not be supplied any more",
    ),
    pytest.param(
        {"dispenseRequest": {"validityPeriod": {"start": "2026-04"}}},
        "order.not-yet-valid",
        "MedicationRequest.dispenseRequest.validityPeriod",
        id="may not be supplied yet",
    ),
]


@pytest.mark.parametrize(("change", "code", "path"), BROKEN)
def test_a_broken_order_is_named_and_costs_nothing_else(change: dict[str, Any], code: str, path: str) -> None:
    found = received(patient(), request("bad", **change), request("good", medicationCodeableConcept=coded("los50")))
    assert order_ids(found) == ["good"]
    about = [one for one in found.findings if one.code == code]
    assert [one.where["path"] for one in about] == [path]
    assert about[0].severity is Severity.STOP
    assert (about[0].where["file"], about[0].where["resource"], about[0].where["order"]) == ("orders.json", "MedicationRequest/bad", "bad")
    assert {one.where.get("order") for one in found.findings} == {"bad"}
    assert all(say(one) for one in found.findings)


NOT_IN_FORCE = ["on-hold", "cancelled", "completed", "entered-in-error", "stopped"]


@pytest.mark.parametrize("status", NOT_IN_FORCE)
def test_an_order_that_its_source_has_ended_is_not_used_and_needs_nobody(status: str) -> None:
    found = received(patient(), request(status=status, medicationCodeableConcept=coded("nope")))
    assert found.orders == ()
    assert [(one.code, one.severity) for one in found.findings] == [("order.not-in-force", Severity.NOTE)]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"status": "draft"}, "order.draft"),
        ({"intent": "proposal"}, "order.not-an-order"),
        ({"intent": "plan"}, "order.not-an-order"),
        ({"intent": "option"}, "order.not-an-order"),
        ({"intent": "instance-order"}, "order.not-an-order"),
        ({"intent": "filler-order"}, "order.not-an-order"),
        ({"reportedBoolean": True}, "order.reported"),
    ],
)
def test_what_is_not_yet_an_order_is_for_a_person(change: dict[str, Any], code: str) -> None:
    found = received(patient(), request(**change))
    assert found.received == ()
    assert [(one.code, one.severity) for one in found.findings] == [(code, Severity.DECIDE)]


@pytest.mark.parametrize("intent", ["order", "original-order", "reflex-order"])
def test_the_kinds_of_order_are_orders(intent: str) -> None:
    assert order_ids(received(patient(), request(intent=intent))) == ["o1"]


# Source: HL7 FHIR R4 (4.0.1), Bundle, "Resolving references in bundles".
REFERENCES = [
    pytest.param(None, "Patient/p1", None, True, id="relative, no addresses"),
    pytest.param("http://a.example/fhir/Patient/p1", "http://a.example/fhir/Patient/p1", None, True, id="absolute"),
    pytest.param(
        "http://a.example/fhir/Patient/p1", "http://a.example/fhir/Patient/p1/_history/3", None, True, id="absolute, with a version"
    ),
    pytest.param("http://a.example/fhir/Patient/p1", "http://b.example/fhir/Patient/p1", None, False, id="another server's"),
    pytest.param(
        "http://a.example/fhir/Patient/p1",
        "Patient/p1",
        "http://a.example/fhir/MedicationRequest/o1",
        True,
        id="relative to the same server",
    ),
    pytest.param(
        "http://a.example/fhir/Patient/p1",
        "Patient/p1",
        "http://b.example/fhir/MedicationRequest/o1",
        False,
        id="relative to another server",
    ),
    pytest.param(
        "urn:uuid:6b1f1d5c-0000-4000-8000-000000000001", "urn:uuid:6b1f1d5c-0000-4000-8000-000000000001", None, True, id="urn:uuid"
    ),
    pytest.param(
        "urn:uuid:6b1f1d5c-0000-4000-8000-000000000001", "urn:uuid:6b1f1d5c-0000-4000-8000-000000000002", None, False, id="another uuid"
    ),
    pytest.param("urn:uuid:6b1f1d5c-0000-4000-8000-000000000001", "Patient/p1", None, True, id="relative to a uuid entry with an id"),
    pytest.param(None, "Patient?identifier=urn:x|7", None, False, id="a search"),
    pytest.param(None, "#p1", None, False, id="contained, where nothing is"),
]


@pytest.mark.parametrize(("patient_url", "reference", "request_url", "resolved"), REFERENCES)
def test_references_are_resolved_inside_the_file_only(
    patient_url: str | None, reference: str, request_url: str | None, *, resolved: bool
) -> None:
    who = {"resource": patient()} | ({"fullUrl": patient_url} if patient_url else {})
    what = {"resource": request(subject={"reference": reference})} | ({"fullUrl": request_url} if request_url else {})
    found = received(who, what)
    assert bool(found.orders) is resolved
    assert codes(found.findings) == ([] if resolved else ["resource.dangling-reference"])


def test_resources_without_ids_are_known_by_their_full_url() -> None:
    who, what = patient(), request(subject={"reference": "urn:uuid:aa"})
    del who["id"], what["id"]
    found = received({"fullUrl": "urn:uuid:aa", "resource": who}, {"fullUrl": "urn:uuid:bb", "resource": what})
    assert (found.people[0].id, found.orders[0].id, found.orders[0].person) == ("aa", "bb", "aa")


def test_a_resource_that_nothing_names_is_not_used() -> None:
    what = request()
    del what["id"]
    found = received(patient(), what)
    assert (found.orders, codes(found.findings)) == ((), ["resource.no-id"])


def test_an_id_that_stands_there_twice_is_used_neither_time() -> None:
    found = received(patient(), request(), request(), request("good", medicationCodeableConcept=coded("los50")))
    assert order_ids(found) == ["good"]
    assert codes(found.findings) == ["resource.duplicate-id", "resource.duplicate-id"]


def test_a_person_who_stands_there_twice_gets_nothing() -> None:
    found = received(patient(), patient(birthDate="1950-01-01"), request())
    assert (found.people, found.orders) == ((), ())
    assert codes(found.findings) == ["resource.duplicate-id", "resource.duplicate-id", "resource.reference-to-duplicate"]


MEDICATION = {"resourceType": "Medication", "id": "m1", "code": coded("los50")}


def by_reference(reference: str = "Medication/m1", **changes: Any) -> dict[str, Any]:
    return request(medicationCodeableConcept=None, medicationReference={"reference": reference}, **changes)


def test_a_referenced_medication_names_the_medicine() -> None:
    found = received(patient(), MEDICATION, by_reference())
    assert (found.findings, found.orders[0].medicine) == ((), "los50")


def test_a_contained_medication_names_the_medicine() -> None:
    found = received(patient(), by_reference("#m1", contained=[MEDICATION]))
    assert (found.findings, found.orders[0].medicine) == ((), "los50")


def ingredient(value: Any, unit: str = "mg", **changes: Any) -> dict[str, Any]:
    strength = {"numerator": {"value": value, "unit": unit}, "denominator": {"value": 1, "unit": "tablet"}}
    return {"itemCodeableConcept": {"text": "losartan"}, "strength": strength} | changes


# Source: HL7 FHIR R4 (4.0.1), Medication.ingredient.strength.
STRENGTHS = [
    pytest.param([ingredient(50)], [], id="the same"),
    pytest.param([ingredient(50, "drops")], ["resource.strength-unreadable"], id="a unit that is not known"),
    pytest.param([ingredient("0.05", "g")], [], id="the same in grams"),
    pytest.param([ingredient(100)], ["resource.strength-differs"], id="twice as much"),
    pytest.param([ingredient(50, "mg"), ingredient(12.5)], ["resource.strength-differs"], id="a second substance"),
    pytest.param([ingredient(100, isActive=False)], [], id="of something that does not act"),
    pytest.param([{"itemCodeableConcept": {"text": "losartan"}}], [], id="none stated"),
]


@pytest.mark.parametrize(("ingredients", "expected"), STRENGTHS)
def test_a_strength_must_be_the_catalogues(ingredients: list[dict[str, Any]], expected: list[str]) -> None:
    text = json.dumps(bundle(patient(), MEDICATION | {"ingredient": ingredients}, by_reference())).replace('"0.05"', "0.05")
    found = parse_bundle(text, source(), definitions())
    assert codes(found.findings) == expected
    assert bool(found.orders) is not bool(expected)


def test_unit_and_code_of_a_strength_must_agree() -> None:
    strength = {"numerator": {"value": 50, "unit": "mg", "system": "http://unitsofmeasure.org", "code": "g"}, "denominator": {"value": 1}}
    found = received(patient(), MEDICATION | {"ingredient": [{"itemCodeableConcept": {"text": "x"}, "strength": strength}]}, by_reference())
    assert codes(found.findings) == ["resource.strength-unreadable"]


MEDICATIONS_NOT_USED = [
    pytest.param(MEDICATION | {"status": "entered-in-error"}, "resource.medication-not-active", id="entered in error"),
    pytest.param(MEDICATION | {"modifierExtension": [EXTENSION]}, "resource.modifier-extension", id="modifier"),
    pytest.param(MEDICATION | {"implicitRules": "http://example.org/r"}, "resource.implicit-rules", id="other rules"),
    pytest.param(MEDICATION | {"form": {"text": "Capsule"}}, "resource.text-contradicts-code", id="another form"),
    pytest.param(MEDICATION | {"code": {"text": "Losartan"}}, "resource.no-code", id="no code"),
    pytest.param(MEDICATION | {"colour": "white"}, "resource.unknown-element", id="not R4"),
]


@pytest.mark.parametrize(("medication", "code"), MEDICATIONS_NOT_USED)
@pytest.mark.parametrize("contained", [False, True], ids=["referenced", "contained"])
def test_a_medication_that_may_not_be_used_stops_its_order(medication: dict[str, Any], code: str, *, contained: bool) -> None:
    if contained:
        found = received(patient(), by_reference("#m1", contained=[medication]))
    else:
        found = received(patient(), medication, by_reference())
    assert found.orders == ()
    assert code in codes(found.findings)


def test_medications_that_are_made_of_each_other_do_not_turn_for_ever() -> None:
    first = MEDICATION | {"ingredient": [{"itemReference": {"reference": "#m2"}}]}
    second = {"resourceType": "Medication", "id": "m2", "ingredient": [{"itemReference": {"reference": "#m1"}}]}
    found = received(patient(), by_reference("#m1", contained=[first, second]))
    assert found.orders == ()
    assert "resource.cyclic-reference" in codes(found.findings)


def test_an_order_that_is_its_own_medicine_is_no_order() -> None:
    found = received(patient(), by_reference("#"))
    assert (found.orders, codes(found.findings)) == ((), ["resource.dangling-reference"])


def test_a_contained_id_that_is_there_twice_is_not_used() -> None:
    found = received(patient(), by_reference("#m1", contained=[MEDICATION, MEDICATION | {"code": coded("biso5")}]))
    assert (found.orders, codes(found.findings)) == ((), ["resource.reference-to-duplicate"])


PEOPLE = [
    pytest.param({"active": False}, "patient.not-active", id="record not in use"),
    pytest.param({"deceasedBoolean": True}, "patient.died", id="died"),
    pytest.param({"deceasedDateTime": "2026-02-01"}, "patient.died", id="died on a day"),
    pytest.param({"link": [{"other": {"reference": "Patient/p2"}, "type": "replaced-by"}]}, "patient.replaced", id="replaced"),
    pytest.param({"name": []}, "resource.empty", id="no names"),
    pytest.param({"name": [{"use": "old", "family": "Marsh"}]}, "patient.no-name", id="an old name only"),
    pytest.param({"name": [{"text": "E\u202edith"}]}, "resource.forbidden-character", id="a name that is turned round"),
    pytest.param({"modifierExtension": [EXTENSION]}, "resource.modifier-extension", id="modifier"),
    pytest.param({"birthDate": "1941-02-30"}, "resource.no-such-day", id="born on a day that is not"),
]


@pytest.mark.parametrize(("change", "code"), PEOPLE)
def test_a_person_who_may_not_be_used_gets_no_orders(change: dict[str, Any], code: str) -> None:
    found = received(patient("p2", **change), patient(), request("x", subject={"reference": "Patient/p2"}), request())
    assert (order_ids(found), [person.id for person in found.people]) == (["o1"], ["p1"])
    assert codes(found.findings) == [code, "resource.reference-to-broken"]
    assert {one.where["person"] for one in found.findings} == {"p2"}


NAMES = [
    pytest.param([{"family": "Marsh", "given": ["Edith", "Anne"]}], "Edith Anne Marsh", id="parts"),
    pytest.param([{"text": "Mrs Edith Marsh", "family": "Marsh"}], "Mrs Edith Marsh", id="text as given"),
    pytest.param([{"use": "nickname", "text": "Edie"}, {"use": "usual", "text": "Edith M."}], "Edith M.", id="not the nickname"),
    pytest.param([{"use": "usual", "text": "Edie M."}, {"use": "official", "text": "Edith Marsh"}], "Edith Marsh", id="the official one"),
    pytest.param([{"text": "Old Name", "period": {"end": "2001-01-01"}}, {"text": "Now Name"}], "Now Name", id="not one that has ended"),
    pytest.param(
        [{"text": "\u05d0\u05d1\u05e8\u05d4\u05dd \u05db\u05d4\u05df"}],
        "\u05d0\u05d1\u05e8\u05d4\u05dd \u05db\u05d4\u05df",
        id="right to left",
    ),
    pytest.param([{"text": "Zoe\u0301 N\u0303a"}], "Zoe\u0301 N\u0303a", id="combining marks, as written"),
    pytest.param(
        [{"given": ["Edith", None], "_given": [None, {"extension": [EXTENSION]}], "family": "Marsh"}], "Edith Marsh", id="a place kept"
    ),
]


@pytest.mark.parametrize(("names", "expected"), NAMES)
def test_the_name_in_force_is_the_name(names: list[dict[str, Any]], expected: str) -> None:
    found = received(patient(name=names), request())
    assert [person.name for person in found.people] == [expected]
    assert order_ids(found) == ["o1"]


def test_a_partial_date_of_birth_is_left_out_and_said() -> None:
    found = received(patient(birthDate="1941"), request())
    assert (found.people[0].born, codes(found.findings), len(found.orders)) == (None, ["patient.born-partial"], 1)


def test_words_are_read_where_there_is_no_structure() -> None:
    found = received(patient(), request(dosageInstruction=[{"text": "Take 1 tablet in the morning"}]))
    assert order_ids(found) == ["o1"]
    assert found.received[0].reading is not None


def test_words_that_leave_something_open_are_a_question_and_schedule_nothing() -> None:
    found = received(patient(), request(dosageInstruction=[{"text": "in the morning"}]))
    assert found.orders == ()
    assert [one.order.id for one in found.unsettled] == ["o1"]
    assert codes(found.findings)[0] == "order.directions-open"
    assert found.findings[0].severity is Severity.DECIDE


@pytest.mark.parametrize("words", ["and then as the mood takes you", "in the evening"], ids=["without meaning", "a question"])
def test_one_dosage_that_cannot_be_read_stops_the_others_of_its_order(words: str) -> None:
    found = received(patient(), request(dosageInstruction=[dosage(), {"text": words}]))
    assert found.orders == ()
    assert found.received[0].order.dosages == ()


LARGE = [
    pytest.param(20, "tablet", True, id="twenty tablets"),
    pytest.param(21, "tablet", False, id="one more"),
    pytest.param(10**30, "tablet", False, id="more than there are"),
    pytest.param(100, "mg", True, id="twenty tablets in milligrams"),
    pytest.param(105, "mg", False, id="twenty-one tablets in milligrams"),
    pytest.param(10**30, "mg", False, id="milligrams without end"),
    pytest.param(6000, "IU", False, id="anything without measure"),
]


@pytest.mark.parametrize(("value", "unit", "used"), LARGE)
def test_an_amount_beyond_belief_is_asked_about(value: int, unit: str, *, used: bool) -> None:
    found = received(patient(), request(dosageInstruction=[dosage(doseAndRate=[{"doseQuantity": {"value": value, "unit": unit}}])]))
    assert bool(found.orders) is used
    assert codes(found.findings) == ([] if used else ["order.large-amount"])


def test_a_remark_is_shown_to_a_person_and_schedules_nothing() -> None:
    found = received(patient(), request(note=[{"text": "Not on Sundays"}]))
    assert (codes(found.findings), found.findings[0].facts["text"]) == (["order.remark"], "Not on Sundays")


def test_when_a_prescription_was_written_starts_and_ends_nothing() -> None:
    plain, authored = received(patient(), request()), received(patient(), request(authoredOn="2026-01-15"))
    assert authored == plain


@pytest.mark.parametrize(
    ("period", "used"),
    [
        ({"start": "2026-03-02"}, True),
        ({"end": "2026-03-02"}, True),
        ({"end": "2026-03"}, True),
        ({"end": "2026"}, True),
        ({"end": "2026-02"}, False),
    ],
)
def test_a_prescription_is_supplied_only_while_it_is_valid(period: dict[str, str], *, used: bool) -> None:
    found = received(patient(), request(dispenseRequest={"validityPeriod": period}))
    assert bool(found.orders) is used


def test_a_later_order_replaces_the_one_that_it_names_from_its_start() -> None:
    later = request(
        "o2",
        medicationCodeableConcept=coded("biso2"),
        priorPrescription={"reference": "MedicationRequest/o1"},
        dosageInstruction=[dosage(timing=timing(boundsPeriod={"start": "2026-03-16"}))],
    )
    found = received(patient(), request(), later)
    assert found.findings == ()
    until = found.orders[0].until
    assert until is not None
    assert (until.day, found.orders[1].until) == (date(2026, 3, 16), None)


def test_a_later_order_without_a_start_leaves_both_to_a_person() -> None:
    repeat = timing()
    del repeat["repeat"]["boundsPeriod"]
    later = request("o2", priorPrescription={"reference": "MedicationRequest/o1"}, dosageInstruction=[dosage(timing=repeat)])
    found = received(patient(), request(), later)
    assert (found.orders, [one.order.id for one in found.unsettled]) == ((), ["o1", "o2"])
    assert "order.replaces-without-start" in codes(found.findings)


def test_two_orders_that_replace_each_other_are_for_a_person() -> None:
    found = received(
        patient(),
        request(priorPrescription={"reference": "MedicationRequest/o2"}),
        request("o2", priorPrescription={"reference": "MedicationRequest/o1"}),
    )
    assert found.orders == ()
    assert codes(found.findings).count("order.replaces-itself") == 2


def test_an_order_cannot_replace_another_persons() -> None:
    found = received(
        patient(),
        patient("p2"),
        request(),
        request("o2", subject={"reference": "Patient/p2"}, priorPrescription={"reference": "MedicationRequest/o1"}),
    )
    assert found.orders == ()
    assert codes(found.findings) == ["order.replaces-other-person"]


def test_an_earlier_order_that_is_not_here_replaces_nothing() -> None:
    found = received(patient(), request(priorPrescription={"reference": "MedicationRequest/gone"}))
    assert (order_ids(found), codes(found.findings)) == (["o1"], ["order.prior-not-here"])


def test_one_medicine_ordered_twice_is_asked_about_and_nothing_is_left_out() -> None:
    found = received(patient(), request(), request("o2", dosageInstruction=[dosage(timing=timing(when=["EVE"]))]))
    assert (order_ids(found), codes(found.findings)) == (["o1", "o2"], ["order.same-medicine-twice"])
    assert found.findings[0].severity is Severity.DECIDE


def test_one_medicine_ordered_twice_one_after_the_other_is_no_question() -> None:
    first = request(dosageInstruction=[dosage(timing=timing(boundsPeriod={"start": "2026-03-02", "end": "2026-03-08"}))])
    second = request("o2", dosageInstruction=[dosage(timing=timing(boundsPeriod={"start": "2026-03-09"}))])
    assert received(patient(), first, second).findings == ()


ENVELOPES = [
    pytest.param({"type": "history"}, "bundle.kind", False, id="versions of the past"),
    pytest.param({"type": ["collection"]}, "bundle.kind", False, id="a list of kinds"),
    pytest.param(
        {"type": "searchset", "link": [{"relation": "next", "url": "http://a.example/2"}]}, "bundle.more-pages", True, id="a page"
    ),
    pytest.param({"implicitRules": "http://example.org/r"}, "resource.implicit-rules", False, id="other rules"),
    pytest.param({"modifierExtension": [EXTENSION]}, "resource.unknown-element", True, id="a bundle has no modifiers"),
    pytest.param({"total": -1}, "resource.wrong-value", True, id="a total below nothing"),
]


@pytest.mark.parametrize(("change", "code", "used"), ENVELOPES)
def test_what_is_wrong_around_the_resources_is_said(change: dict[str, Any], code: str, *, used: bool) -> None:
    found = received(patient(), request(), **change)
    assert code in codes(found.findings)
    assert bool(found.orders) is used


def test_an_entry_that_asks_for_a_deletion_states_no_order() -> None:
    entry = {"resource": request(), "request": {"method": "DELETE", "url": "MedicationRequest/o1"}}
    found = received(patient(), entry, type="transaction")
    assert (found.orders, codes(found.findings)) == ((), ["bundle.entry-not-stated", "resource.entry-broken"])


def test_an_order_whose_type_is_misspelt_is_not_passed_over() -> None:
    found = received(patient(), request(resourceType="MedicationOrder"))
    assert codes(found.findings)[0] == "resource.wrong-value"
    assert found.findings[0].where["path"] == "Bundle.entry[1].resource.resourceType"
    assert found.findings[0].severity is Severity.STOP
    misspelt = received(patient(), request(resourceType="MedicationRequst")).findings[0].facts["expected"]
    assert re.fullmatch(r"one of [0-9]+ values, such as MedicationRequest", str(misspelt))


def test_resources_of_other_types_are_named_and_not_read() -> None:
    found = received(patient(), request(), {"resourceType": "Observation", "id": "d1"}, {"resourceType": "Practitioner", "id": "d2"})
    assert [(one.code, one.facts["kinds"]) for one in found.findings] == [("bundle.not-read", ("Observation",))]


DOCTOR = {"resourceType": "Practitioner", "id": "d1", "name": [{"family": "Lowe", "given": ["Ann"]}]}
ROLE = {"resourceType": "PractitionerRole", "id": "r1", "practitioner": {"reference": "Practitioner/d1"}}
PRESCRIBERS = [
    pytest.param({"reference": "Practitioner/d1"}, [DOCTOR], "Ann Lowe", id="in the file"),
    pytest.param({"reference": "Practitioner/d1", "display": "Dr A. Lowe"}, [DOCTOR], "Dr A. Lowe", id="the words beside it"),
    pytest.param({"reference": "PractitionerRole/r1"}, [DOCTOR, ROLE], "Ann Lowe", id="by way of a role"),
    pytest.param({"reference": "PractitionerRole/r1"}, [ROLE], "", id="a role of somebody who is not here"),
    pytest.param({"reference": "Practitioner/d9"}, [DOCTOR], "", id="not here"),
    pytest.param({"reference": "Practitioner/d1"}, [DOCTOR | {"name": "Lowe"}], "", id="not R4"),
]


@pytest.mark.parametrize(("requester", "others", "name"), PRESCRIBERS)
def test_the_prescriber_is_named_as_far_as_the_file_says(requester: dict[str, Any], others: list[Any], name: str) -> None:
    found = received(patient(), request(requester=requester), *others)
    assert [order.prescriber for order in found.orders] == [name]
    assert all(one.severity is Severity.NOTE for one in found.findings)


def test_a_contained_prescriber_is_named() -> None:
    found = received(patient(), request(requester={"reference": "#d1"}, contained=[DOCTOR]))
    assert [order.prescriber for order in found.orders] == ["Ann Lowe"]


def test_the_number_of_the_whole_prescription_stands_for_an_orders_own() -> None:
    assert received(patient(), request(groupIdentifier={"value": "G7"})).orders[0].rx_no == "G7"


def test_a_bundle_in_the_bundle_is_not_passed_over() -> None:
    found = received(patient(), bundle(request()))
    assert codes(found.findings) == ["bundle.nested"]
    assert found.findings[0].severity is Severity.STOP


@pytest.mark.parametrize("text", ["", "{", '{"resourceType": "Bundle", "resourceType": "Bundle"}', "[" * 100 + "]" * 100, "nul"])
def test_what_is_no_strict_json_is_refused(text: str) -> None:
    with pytest.raises(JsonError):
        parse_bundle(text, source(), definitions())


@pytest.mark.parametrize("text", ["[]", "{}", "null", "3", '{"resourceType": "Patient", "id": "p1"}'])
def test_what_is_no_bundle_is_refused(text: str) -> None:
    with pytest.raises(NotABundle):
        parse_bundle(text, source(), definitions())


def test_every_sentence_names_file_resource_and_path() -> None:
    for found in received(patient(), request(status="odd")).findings:
        assert say(found).startswith("orders.json, MedicationRequest/o1, MedicationRequest.status: ")


@pytest.mark.parametrize(
    "entry", [None, 3, "x", [], [None], [3], [{}], [{"resource": None}], [{"resource": []}], [{"resource": {"resourceType": 3}}], {}]
)
def test_entries_of_any_shape_are_findings_and_never_an_exception(entry: Any) -> None:
    found = received(entry=entry)
    assert found.orders == ()
    assert all(say(one) for one in found.findings)
