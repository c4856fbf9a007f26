"""FHIR R4 Bundle → people and orders. Comes in: the file's text and the R4 definitions. Goes out: `OrdersIn`, nothing lost or guessed.

Read: `Patient`, `MedicationRequest`, `Medication`. Each is first held against its R4 definition; one that breaks it is reported with its
path and not used, and the rest of the file is. Source: HL7 FHIR R4 (4.0.1), Bundle.
"""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from dosewright.core.interop.fhir_definitions import FhirDefinitions
from dosewright.core.interop.fhir_entries import Entries, Entry, Unresolved, entries_of
from dosewright.core.interop.fhir_medicine import MedicineReader
from dosewright.core.interop.fhir_notes import ResourceNotes
from dosewright.core.interop.fhir_order import OrderReader, order_id
from dosewright.core.interop.fhir_patient import person_id, read_patient
from dosewright.core.interop.fhir_prescriber import read_prescriber
from dosewright.core.interop.json_text import parse_json
from dosewright.core.interop.lines import Replacement, check_same_medicine, replace_earlier
from dosewright.core.interop.medicine_words import MedicineWords
from dosewright.core.interop.orders_in import OrdersIn, OrderSource, ReceivedOrder
from dosewright.core.interop.words_received import words_of_request
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person

__all__ = ["NotABundle", "parse_bundle"]

_READ = ("Patient", "MedicationRequest", "Medication")
_ASKED = ("Practitioner", "PractitionerRole")  # read where an order names them
_KINDS = frozenset({"batch", "collection", "document", "message", "searchset", "transaction"})


class NotABundle(ValueError):
    """Strict JSON, but no FHIR Bundle. The message is a sentence without the file's name."""


def parse_bundle(text: str, source: OrderSource, definitions: FhirDefinitions) -> OrdersIn:
    """Everything that the bundle orders. Raises JsonError where it is not JSON, NotABundle where it is something else."""
    bundle = parse_json(text)
    if not isinstance(bundle, dict) or bundle.get("resourceType") != "Bundle":
        raise NotABundle(_what_it_is(bundle))
    return _Reader(source, definitions, bundle, entries_of(bundle)).read()


def _what_it_is(value: object) -> str:
    found = value.get("resourceType") if isinstance(value, dict) else None
    wanted = 'a FHIR R4 Bundle is wanted here ("resourceType": "Bundle").'
    return f"this is a {str(found)[:60]}; {wanted}" if isinstance(found, str) else f"this JSON is no FHIR resource; {wanted}"


@dataclass(frozen=True, slots=True)
class _Reader:
    source: OrderSource
    definitions: FhirDefinitions
    bundle: Mapping[str, Any]
    entries: Entries

    def read(self) -> OrdersIn:
        envelope = self._notes("Bundle")
        faulty = self._check_envelope(envelope)
        if not _readable(self.bundle, envelope):
            return OrdersIn(findings=tuple(envelope.findings))
        checked = {entry.number: self._checked(entry, faulty) for entry in self.entries.all if entry.type in _READ}
        broken = frozenset(number for number, notes in checked.items() if not notes.usable)
        people = self._people(checked, broken)
        received, replacements = self._orders(checked, broken, people)
        kept, replaced = replace_earlier(received, replacements)
        self._note_not_read(envelope)
        found = [*envelope.findings, *(finding for number in sorted(checked) for finding in checked[number].findings)]
        found += [*replaced, *check_same_medicine(kept, self.source.file, self.source.medicines)]
        words = {entry.name: words_of_request(entry.resource) for entry in self.entries.of_type("MedicationRequest")}
        return OrdersIn(tuple(people.values()), kept, tuple(found), words)

    def _notes(self, resource: str) -> ResourceNotes:
        return ResourceNotes(self.source.file, resource)

    def _check_envelope(self, notes: ResourceNotes) -> frozenset[int]:
        """What is wrong with the bundle around its resources; the numbers of the entries that are touched by it."""
        faults = self.definitions.check(dict(self.bundle), "Bundle")
        notes.faults(faults)
        notes.modifiers({name: value for name, value in self.bundle.items() if name != "entry"}, "Bundle")
        touched = {entry.number for entry in self.entries.all if any(_within(fault.path, entry.number) for fault in faults)}
        for number, entry in enumerate(_list(self.bundle.get("entry"))):
            before = len(notes.findings)
            self._check_entry(entry, f"Bundle.entry[{number}]", notes)
            if len(notes.findings) > before:
                touched.add(number)
        return frozenset(touched)

    def _check_entry(self, entry: Any, path: str, notes: ResourceNotes) -> None:
        if not isinstance(entry, dict):
            return
        notes.modifiers(entry, path)
        request = entry.get("request")
        if isinstance(request, dict) and request.get("method") not in ("POST", "PUT", None):
            notes.stop("bundle.entry-not-stated", f"{path}.request.method", method=str(request["method"])[:20])
        resource = entry.get("resource")
        if isinstance(resource, dict) and resource.get("resourceType") == "Bundle":
            notes.stop("bundle.nested", f"{path}.resource")

    def _note_not_read(self, notes: ResourceNotes) -> None:
        kinds = sorted({entry.type for entry in self.entries.all} - {*_READ, *_ASKED, "Bundle"})
        if kinds:
            notes.add(Severity.NOTE, "bundle.not-read", "Bundle.entry", kinds=tuple(kinds))

    def _checked(self, entry: Entry, faulty: frozenset[int]) -> ResourceNotes:
        """The findings of one resource, to which its reader adds: breaches of the definitions, and ids that stand there twice."""
        notes = ResourceNotes(self.source.file, entry.name)
        if entry.type == "MedicationRequest":
            notes.order, notes.person = order_id(entry), self._subject_id(entry)
        elif entry.type == "Patient":
            notes.person = person_id(entry)
        notes.faults(self.definitions.check(dict(entry.resource), entry.type))
        if self.entries.is_twice(entry):
            notes.stop("resource.duplicate-id", f"{entry.type}.id", id=entry.local or entry.full_url)
        if entry.number in faulty:
            notes.stop("resource.entry-broken", f"Bundle.entry[{entry.number}]")
        return notes

    def _subject_id(self, entry: Entry) -> PersonId | None:
        """Whose order it is, as far as can be told even of a broken one: so that the finding stands with the person."""
        subject = entry.resource.get("subject")
        reference = subject.get("reference") if isinstance(subject, dict) else None
        found = self.entries.resolve(reference, entry, "Patient") if isinstance(reference, str) else None
        return person_id(found) if isinstance(found, Entry) else None

    def _people(self, checked: Mapping[int, ResourceNotes], broken: frozenset[int]) -> dict[int, Person]:
        """People by the number of their entry."""
        found: dict[int, Person] = {}
        for entry in self.entries.of_type("Patient"):
            person = None if entry.number in broken else read_patient(entry, checked[entry.number])
            if person is not None:
                found[entry.number] = person
        return found

    def _orders(
        self, checked: Mapping[int, ResourceNotes], broken: frozenset[int], people: Mapping[int, Person]
    ) -> tuple[tuple[ReceivedOrder, ...], tuple[Replacement, ...]]:
        catalogue = self.source.medicines
        medicines = MedicineReader(catalogue, MedicineWords(catalogue.values()), self.entries, self.definitions, broken)
        reader = OrderReader(
            self.source,
            medicines,
            lambda entry, notes: self._person_of(entry, people, notes),
            lambda entry, notes: read_prescriber(entry, self.entries, self.definitions, notes),
        )
        received: list[ReceivedOrder] = []
        replacements: list[Replacement] = []
        for entry in self.entries.of_type("MedicationRequest"):
            notes = checked[entry.number]
            order = None if entry.number in broken else reader.read(entry, notes)
            if order is not None:
                received.append(replace(order, findings=tuple(notes.findings)))
                replacements += self._replacement(entry, notes)
        return tuple(received), tuple(replacements)

    def _person_of(self, entry: Entry, people: Mapping[int, Person], notes: ResourceNotes) -> Person | None:
        subject = entry.resource["subject"]
        path, reference = "MedicationRequest.subject", subject.get("reference", "")
        found = self.entries.resolve(reference, entry, "Patient")
        if isinstance(found, Unresolved):
            notes.stop(found.code, path, reference=reference)
            return None
        person = people.get(found.number)
        if person is None:
            notes.stop("resource.reference-to-broken", path, reference=reference)
        elif _names_someone_else(subject.get("display", ""), person):
            notes.stop("order.other-name", path, text=subject["display"][:100], name=person.name)
        return person

    def _replacement(self, entry: Entry, notes: ResourceNotes) -> Iterator[Replacement]:
        reference = entry.resource.get("priorPrescription", {}).get("reference", "")
        if not reference:
            return
        prior = self.entries.resolve(reference, entry, "MedicationRequest")
        known, earlier = order_id(entry), order_id(prior) if isinstance(prior, Entry) else None
        if known and earlier:
            yield Replacement(earlier=earlier, later=known, where={**notes.where(), "path": "MedicationRequest.priorPrescription"})
        else:
            notes.add(Severity.NOTE, "order.prior-not-here", "MedicationRequest.priorPrescription", reference=reference[:100])


def _names_someone_else(display: str, person: Person) -> bool:
    """Whether the name beside the reference has not one word in common with the person's."""
    said, known = _name_words(display), _name_words(person.name)
    return bool(said) and not said & known


def _name_words(name: str) -> set[str]:
    plain = "".join(letter for letter in unicodedata.normalize("NFKD", name.casefold()) if not unicodedata.combining(letter))
    return set(re.findall(r"[^\W\d_]+", plain))


def _readable(bundle: Mapping[str, Any], notes: ResourceNotes) -> bool:
    """Whether the bundle is of a kind that states orders, whole."""
    kind = bundle.get("type")
    if not isinstance(kind, str) or kind not in _KINDS:
        notes.stop("bundle.kind", "Bundle.type", kind=str(kind)[:40])
    for place, link in enumerate(_list(bundle.get("link"))):
        if isinstance(link, dict) and link.get("relation") == "next":
            notes.stop("bundle.more-pages", f"Bundle.link[{place}]")
    return not any(found.code in ("bundle.kind", "resource.implicit-rules") for found in notes.findings)


def _within(path: str, number: int) -> bool:
    return path.startswith(f"Bundle.entry[{number}]")


def _list(value: object) -> list[Any]:
    return value if isinstance(value, list) else []
