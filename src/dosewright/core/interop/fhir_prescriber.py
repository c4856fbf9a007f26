"""Who wrote an order, as labels name them. Comes in: a `MedicationRequest` and its file. Goes out: a name, or "".

The words beside the reference, else the name of the `Practitioner` that it means, directly or by way of a `PractitionerRole`, contained or
in the same file. A prescriber who is not in the file is no fault. Source: HL7 FHIR R4 (4.0.1), MedicationRequest.requester.
"""

from collections.abc import Mapping
from typing import Any

from dosewright.core.interop.fhir_definitions import FhirDefinitions
from dosewright.core.interop.fhir_entries import Entries, Entry
from dosewright.core.interop.fhir_name import name_in_force
from dosewright.core.interop.fhir_notes import ResourceNotes
from dosewright.core.units.finding import Severity

__all__ = ["read_prescriber"]

_PATH = "MedicationRequest.requester"
_TYPES = ("Practitioner", "PractitionerRole")


def read_prescriber(request: Entry, entries: Entries, definitions: FhirDefinitions, notes: ResourceNotes) -> str:
    """The printed name; "" where none is known, with a note where what stands in the file cannot be used."""
    reference: Mapping[str, Any] = request.resource.get("requester", {})
    said: str = reference.get("display", "")
    found = said or _name(reference.get("reference", ""), request, entries, definitions, notes)
    return notes.text(found, _PATH, breaks=False)


def _name(target: str, source: Entry, entries: Entries, definitions: FhirDefinitions, notes: ResourceNotes) -> str:
    for kind in _TYPES:
        found = _resolve(target, source, entries, kind)
        if found is None:
            continue
        if definitions.check(dict(found), kind) or "modifierExtension" in found or "implicitRules" in found:
            notes.add(Severity.NOTE, "order.prescriber-unreadable", _PATH, reference=target)
            return ""
        return _name_of(found, source, entries, definitions, notes)
    return ""


def _name_of(found: Mapping[str, Any], source: Entry, entries: Entries, definitions: FhirDefinitions, notes: ResourceNotes) -> str:
    if found["resourceType"] == "Practitioner":
        named = name_in_force(found.get("name", ()))
        return named[1] if named else ""
    person: Mapping[str, Any] = found.get("practitioner", {})
    target: str = person.get("reference", "")
    beside: str = person.get("display", "")
    role = _resolve(target, source, entries, "Practitioner")
    return beside or (_name(target, source, entries, definitions, notes) if role else "")


def _resolve(target: str, source: Entry, entries: Entries, kind: str) -> Mapping[str, Any] | None:
    if target.startswith("#"):
        held = [one for one in source.resource.get("contained", ()) if one.get("id") == target[1:] and one.get("resourceType") == kind]
        return held[0] if len(held) == 1 else None
    entry = entries.resolve(target, source, kind)
    return entry.resource if isinstance(entry, Entry) else None
