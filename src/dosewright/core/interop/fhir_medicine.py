"""Which medicine of the catalogue an order means. Comes in: a `MedicationRequest`. Goes out: the medicine, or findings.

Only a code names a medicine; words beside it, a form and a strength must agree with the catalogue. Followed: `medicationCodeableConcept`,
`medicationReference` to a contained or another resource, and the ingredients of that resource.
Source: HL7 FHIR R4 (4.0.1), MedicationRequest.medication[x], Medication.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from dosewright.core.interop.fhir_definitions import FhirDefinitions
from dosewright.core.interop.fhir_entries import Entries, Entry, Unresolved
from dosewright.core.interop.fhir_notes import ResourceNotes
from dosewright.core.interop.fhir_strength import parse_ratio
from dosewright.core.interop.medicine_words import MedicineWords
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.strength import find_strengths
from dosewright.core.units.ids import MedicineCode

__all__ = ["MedicineReader"]


@dataclass(frozen=True, slots=True)
class _Found:
    """A `Medication` resource: where it stands, and the resource that its own local references ("#a") look into."""

    resource: Mapping[str, Any]
    path: str
    entry: Entry
    key: str  # the same for the same resource, however it was reached


@dataclass(frozen=True, slots=True)
class MedicineReader:
    """Reads the medicines of one file's orders."""

    medicines: Mapping[MedicineCode, Medicine]
    words: MedicineWords
    entries: Entries
    definitions: FhirDefinitions
    broken: frozenset[int]  # numbers of entries that do not keep their definition

    def read(self, request: Entry, notes: ResourceNotes) -> Medicine | None:
        """The one medicine; None with a `stop` in `notes`."""
        concept = request.resource.get("medicationCodeableConcept")
        if concept is not None:
            return self._named(concept, "MedicationRequest.medicationCodeableConcept", notes)
        reference = request.resource.get("medicationReference", {})
        found = self._resolve(reference, request, "MedicationRequest.medicationReference", notes)
        return self._medication(found, reference, notes) if found else None

    def _medication(self, found: _Found, reference: Mapping[str, Any], notes: ResourceNotes) -> Medicine | None:
        self._check_used(found, (), notes)
        medicine = self._named(found.resource.get("code", {}), f"{found.path}.code", notes)
        if medicine is None:
            return None
        self._check_words(reference.get("display", ""), "MedicationRequest.medicationReference.display", medicine, notes)
        for path, text in _texts(found.resource.get("form", {}), f"{found.path}.form"):
            self._check_words(text, path, medicine, notes)
        self._check_strengths(found, medicine, notes)
        return medicine if notes.usable else None

    def _named(self, concept: Mapping[str, Any], path: str, notes: ResourceNotes) -> Medicine | None:
        codes = [coding["code"] for coding in concept.get("coding", ()) if "code" in coding]
        meant = {code: self.medicines[MedicineCode(code)] for code in codes if code in self.medicines}
        if len(meant) != 1:
            code = "resource.several-medicines" if meant else "resource.unknown-medicine" if codes else "resource.no-code"
            said = next((text for _, text in _texts(concept, path)), "")
            notes.stop(code, path, codes=tuple(meant or codes), text=said[:200])
            return None
        medicine = next(iter(meant.values()))
        for place, text in _texts(concept, path):
            self._check_words(text, place, medicine, notes)
        return medicine

    def _check_words(self, text: str, path: str, medicine: Medicine, notes: ResourceNotes) -> None:
        for what in self.words.contradictions(notes.text(text, path), medicine):
            code = "resource.strength-differs" if what == "strength" else "resource.text-contradicts-code"
            notes.stop(code, path, text=text[:200], medicine=medicine.label, what=what)

    def _check_strengths(self, found: _Found, medicine: Medicine, notes: ResourceNotes) -> None:
        known = set(find_strengths(medicine.strength))
        for place, ingredient in enumerate(found.resource.get("ingredient", ())):
            if "strength" in ingredient and ingredient.get("isActive") is not False:
                path = f"{found.path}.ingredient[{place}].strength"
                said = parse_ratio(ingredient["strength"])
                if said is None:
                    notes.stop("resource.strength-unreadable", path)
                elif said not in known:
                    text = _shown(ingredient["strength"])
                    notes.stop("resource.strength-differs", path, text=text, medicine=medicine.label, what="strength")

    def _check_used(self, found: _Found, above: tuple[str, ...], notes: ResourceNotes) -> None:
        """The resource, and the medications it is made of: each may be used, and none is made of itself."""
        if found.key in above:
            notes.stop("resource.cyclic-reference", found.path)
            return
        notes.modifiers(found.resource, found.path)
        if found.resource.get("status", "active") != "active":
            notes.stop("resource.medication-not-active", f"{found.path}.status", status=str(found.resource.get("status")))
        for place, ingredient in enumerate(found.resource.get("ingredient", ())):
            if reference := ingredient.get("itemReference"):
                self._check_ingredient(reference, f"{found.path}.ingredient[{place}].itemReference", found, above, notes)

    def _check_ingredient(
        self, reference: Mapping[str, Any], path: str, parent: _Found, above: tuple[str, ...], notes: ResourceNotes
    ) -> None:
        if "/Substance/" in f"/{reference.get('reference', '')}" or reference.get("type") == "Substance":
            return  # names a substance, which no check here needs
        inner = self._resolve(reference, parent.entry, path, notes)
        if inner:
            self._check_used(inner, (*above, parent.key), notes)

    def _resolve(self, reference: Mapping[str, Any], source: Entry, path: str, notes: ResourceNotes) -> _Found | None:
        target = reference.get("reference", "")
        if target.startswith("#"):
            return self._contained(target, source, path, notes)
        entry = self.entries.resolve(target, source, "Medication")
        if isinstance(entry, Unresolved) or entry.number in self.broken:
            notes.stop(entry.code if isinstance(entry, Unresolved) else "resource.reference-to-broken", path, reference=target)
            return None
        return _Found(entry.resource, f"Bundle.entry[{entry.number}].resource", entry, str(entry.number))

    def _contained(self, target: str, source: Entry, path: str, notes: ResourceNotes) -> _Found | None:
        listed = source.resource.get("contained", ())
        meant = [(place, held) for place, held in enumerate(listed) if held.get("id") == target.removeprefix("#") and target != "#"]
        if len(meant) != 1:
            notes.stop("resource.reference-to-duplicate" if meant else "resource.dangling-reference", path, reference=target)
            return None
        place, held = meant[0]
        inside = f"{source.type}.contained[{place}]"
        if held.get("resourceType") != "Medication":
            notes.stop("resource.reference-of-other-type", path, reference=target)
            return None
        if faults := self.definitions.check(held, "Medication"):
            notes.faults(faults)
            return None
        if "contained" in held:
            notes.stop("resource.contained-in-contained", inside)
        return _Found(held, inside, source, f"{source.number}{target}")


def _texts(concept: Mapping[str, Any], path: str) -> Iterator[tuple[str, str]]:
    """Every word beside a code, with its path."""
    if concept.get("text"):
        yield f"{path}.text", concept["text"]
    for place, coding in enumerate(concept.get("coding", ())):
        if coding.get("display"):
            yield f"{path}.coding[{place}].display", coding["display"]


def _shown(ratio: Mapping[str, Any]) -> str:
    parts = (ratio.get("numerator", {}), ratio.get("denominator", {}))
    return " per ".join(f"{part['value']} {part.get('unit') or part.get('code') or ''}".strip() for part in parts if "value" in part)
