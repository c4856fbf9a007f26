"""FHIR R4 `Patient` → `Person`. Comes in: a resource that keeps its definition. Goes out: the person, or findings.

A partial date of birth identifies nobody and is left out, with a note. Source: HL7 FHIR R4 (4.0.1), Patient, Address.
"""

import re
from collections.abc import Mapping
from datetime import date
from typing import Any

from dosewright.core.interop.fhir_entries import Entry
from dosewright.core.interop.fhir_name import name_in_force
from dosewright.core.interop.fhir_notes import ResourceNotes
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person

__all__ = ["person_id", "read_patient"]

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


def person_id(entry: Entry) -> PersonId | None:
    """The resource's id, else what its `fullUrl` calls it ("urn:uuid:…" without the scheme)."""
    found = entry.id or entry.full_url.removeprefix("urn:uuid:").removeprefix("urn:oid:")
    return PersonId(found) if found else None


def read_patient(entry: Entry, notes: ResourceNotes) -> Person | None:
    """The person; None with a `stop` in `notes`."""
    patient = entry.resource
    notes.modifiers(patient, "Patient")
    _check_standing(patient, notes)
    known = person_id(entry)
    if known is None:
        notes.stop("resource.no-id", "Patient.id")
    name, born, address = _name(patient, notes), _born(patient, notes), _address(patient, notes)
    if known is None or not name or not notes.usable:
        return None
    return Person(known, name, born=born, address=address)


def _check_standing(patient: Mapping[str, Any], notes: ResourceNotes) -> None:
    if patient.get("active") is False:
        notes.stop("patient.not-active", "Patient.active")
    if patient.get("deceasedBoolean") is True or "deceasedDateTime" in patient:
        notes.stop("patient.died", "Patient.deceased")
    if any(link.get("type") == "replaced-by" for link in patient.get("link", ())):
        notes.stop("patient.replaced", "Patient.link")


def _name(patient: Mapping[str, Any], notes: ResourceNotes) -> str:
    found = name_in_force(patient.get("name", ()))
    if found is None:
        notes.stop("patient.no-name", "Patient.name")
        return ""
    place, written = found
    return notes.text(written, f"Patient.name[{place}]", breaks=False)


def _born(patient: Mapping[str, Any], notes: ResourceNotes) -> date | None:
    written: str = patient.get("birthDate", "")
    if not written:
        return None
    try:
        if _DAY.fullmatch(written):
            return date.fromisoformat(written)
    except ValueError:
        notes.stop("resource.no-such-day", "Patient.birthDate", value=written)
        return None
    notes.add(Severity.NOTE, "patient.born-partial", "Patient.birthDate", value=written)
    return None


def _address(patient: Mapping[str, Any], notes: ResourceNotes) -> str:
    for place, address in enumerate(patient.get("address", ())):
        if address.get("use") not in ("old", "billing") and "end" not in address.get("period", {}):
            lines = [line for line in (*address.get("line", ()), address.get("city"), address.get("postalCode")) if line]
            return notes.text(", ".join(lines) or address.get("text", ""), f"Patient.address[{place}]")
    return ""
