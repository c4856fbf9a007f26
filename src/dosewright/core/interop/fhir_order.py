"""FHIR R4 `MedicationRequest` → an order. Comes in: a resource that keeps its definition, and its people and medicines. Goes out: an order,
one that a person must settle, or findings.

Only an active order is used: what is on hold, stopped, cancelled, completed or entered in error is not, with a note. `authoredOn` is when
the prescription was written and `dispenseRequest.validityPeriod` when it may be supplied: neither starts or ends the directions; only the
directions' own bounds do. Source: HL7 FHIR R4 (4.0.1), MedicationRequest; its modifier elements are status, intent and doNotPerform.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import Any

from dosewright.core.interop.directions import findings_of_reading, read_directions
from dosewright.core.interop.dosage_json import parse_dosage
from dosewright.core.interop.fhir_entries import Entry
from dosewright.core.interop.fhir_medicine import MedicineReader
from dosewright.core.interop.fhir_notes import ResourceNotes
from dosewright.core.interop.instructions_together import whole_reading, with_choices
from dosewright.core.interop.large_amounts import check_large_amounts
from dosewright.core.interop.orders_in import OrderSource, ReceivedOrder
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Reading
from dosewright.core.regimen.routes import by_mouth
from dosewright.core.units.finding import Severity, needs_a_person
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["OrderReader", "order_id"]

# Not used, and nothing for a person to do: the source says so itself.
_OVER = frozenset({"on-hold", "cancelled", "completed", "entered-in-error", "stopped"})
# Orders by the standard's own code system: reflex-order and original-order are kinds of order.
_ORDERS = frozenset({"order", "original-order", "reflex-order"})
_MODALITIES = frozenset({"proposal", "plan", "filler-order", "instance-order", "option"})


@dataclass(frozen=True, slots=True)
class OrderReader:
    """Reads the orders of one file."""

    source: OrderSource
    medicines: MedicineReader
    person_of: Callable[[Entry, ResourceNotes], Person | None]
    prescriber_of: Callable[[Entry, ResourceNotes], str]

    def read(self, entry: Entry, notes: ResourceNotes) -> ReceivedOrder | None:
        """The order; None with findings in `notes` where it is not used."""
        request = entry.resource
        notes.modifiers(request, "MedicationRequest")
        if not notes.usable or not _is_active(request, notes):
            return None
        person, medicine = self.person_of(entry, notes), self.medicines.read(entry, notes)
        known = order_id(entry)
        if known is None:
            notes.stop("resource.no-id", "MedicationRequest.id")
        _note_remarks(request, notes)
        _check_validity(request, self.source.on, notes)
        if person is None or medicine is None or known is None or not notes.usable:
            return None
        order = Order(known, person.id, medicine.code, (), prescriber=self.prescriber_of(entry, notes), purpose=_purpose(request))
        return self._with_directions(_labelled(order, request, notes), request, medicine, notes)

    def _with_directions(self, order: Order, request: Mapping[str, Any], medicine: Medicine, notes: ResourceNotes) -> ReceivedOrder | None:
        read = [self._dosage(given, place, medicine, notes) for place, given in enumerate(request.get("dosageInstruction", ()))]
        if not read:
            notes.stop("order.no-directions", "MedicationRequest.dosageInstruction")
        asked = whole_reading(read) if len(read) > 1 else next((reading for _, reading in read if reading and not reading.dosages), None)
        complete = notes.usable and all(dosages for dosages, _ in read)
        dosages = tuple(dosage for dosages, _ in read for dosage in dosages) if complete else ()
        if large := tuple(check_large_amounts(dosages, medicine)):
            notes.take(large, "MedicationRequest.dosageInstruction")
            dosages = ()
        reading = asked or next((reading for _, reading in read if reading), None)
        return ReceivedOrder(replace(order, dosages=dosages), reading)

    def _dosage(self, given: Any, place: int, medicine: Medicine, notes: ResourceNotes) -> tuple[tuple[Dosage, ...], Reading | None]:
        """One `dosageInstruction`: structure, or words that are read. Nothing where a person must look first."""
        path = f"MedicationRequest.dosageInstruction[{place}]"
        dosage, findings = parse_dosage(given, path)
        notes.take(findings)
        notes.text(dosage.text + dosage.patient_instruction, path)
        if needs_a_person(findings):
            return (), None
        if _is_structured(dosage):
            return (dosage,), None
        if not dosage.text.strip():
            notes.stop("order.no-directions", path)
            return (), None
        return self._from_words(dosage, path, medicine, notes)

    def _from_words(self, dosage: Dosage, path: str, medicine: Medicine, notes: ResourceNotes) -> tuple[tuple[Dosage, ...], Reading]:
        reading = read_directions(dosage.text, medicine, self.source)
        notes.take(findings_of_reading(reading, dosage.text), f"{path}.text")
        if dosage.sequence is not None and len(reading.dosages) > 1:
            notes.stop("order.sequence-of-words", f"{path}.sequence")
            return (), reading
        return tuple(_joined(read, dosage) for read in reading.dosages), with_choices(reading, partial(_beside, dosage))


def _purpose(request: Mapping[str, Any]) -> str | None:
    """What the medicine is for, as `reasonCode` says it in words; None where nothing is said."""
    said = [
        code.get("text") or next((one["display"] for one in code.get("coding", ()) if one.get("display")), "")
        for code in request.get("reasonCode", ())
    ]
    return ", ".join(text.strip() for text in said if text.strip()) or None


def order_id(entry: Entry) -> OrderId | None:
    """The resource's id, else what its `fullUrl` calls it."""
    found = entry.id or entry.full_url.removeprefix("urn:uuid:").removeprefix("urn:oid:")
    return OrderId(found) if found else None


def _is_active(request: Mapping[str, Any], notes: ResourceNotes) -> bool:
    """Whether the source means it as an order in force. What it does not say for certain is for a person."""
    status, intent = request.get("status", ""), request.get("intent", "")
    if request.get("doNotPerform") is True:
        notes.stop("order.do-not-perform", "MedicationRequest.doNotPerform")
    if status in _OVER:
        notes.add(Severity.NOTE, "order.not-in-force", "MedicationRequest.status", status=status)
    elif status == "draft":
        notes.add(Severity.DECIDE, "order.draft", "MedicationRequest.status")
    elif status != "active":
        notes.stop("order.unknown-status", "MedicationRequest.status", status=status)
    if intent in _MODALITIES:
        notes.add(Severity.DECIDE, "order.not-an-order", "MedicationRequest.intent", intent=intent)
    elif intent not in _ORDERS:
        notes.stop("order.unknown-intent", "MedicationRequest.intent", intent=intent)
    if request.get("reportedBoolean") is True or "reportedReference" in request:
        notes.add(Severity.DECIDE, "order.reported", "MedicationRequest.reported")
    return not notes.findings


def _is_structured(dosage: Dosage) -> bool:
    return bool(dosage.timing or dosage.as_needed or dosage.amounts)


def _beside(given: Dosage, read: tuple[Dosage, ...]) -> tuple[Dosage, ...]:
    """One thing that the words may mean, with what stood beside them; nothing where a number in the sequence cannot be that of several."""
    if given.sequence is not None and len(read) > 1:
        return ()
    return tuple(_joined(dosage, given) for dosage in read)


def _joined(read: Dosage, given: Dosage) -> Dosage:
    """What the words say, with what stood beside the words."""
    return replace(
        read,
        sequence=given.sequence if given.sequence is not None else read.sequence,
        additional=(*read.additional, *given.additional),
        patient_instruction=given.patient_instruction or read.patient_instruction,
        site=given.site or read.site,
        route=read.route if given.route is None or not by_mouth(read.route) else given.route,
        method=given.method or read.method,
        max_per_period=given.max_per_period or read.max_per_period,
        max_per_administration=given.max_per_administration or read.max_per_administration,
        max_per_lifetime=given.max_per_lifetime or read.max_per_lifetime,
    )


def _labelled(order: Order, request: Mapping[str, Any], notes: ResourceNotes) -> Order:
    """With the directions' words as received, and the prescription's number: its own, else that of the prescription it belongs to."""
    words = [given["text"].strip() for given in request.get("dosageInstruction", ()) if given.get("text")]
    named = (*request.get("identifier", ()), request.get("groupIdentifier", {}))
    numbers = [identifier["value"] for identifier in named if identifier.get("value")]
    return replace(
        order,
        text="\n".join(words),
        rx_no=notes.text(numbers[0] if numbers else "", "MedicationRequest.identifier", breaks=False),
    )


def _note_remarks(request: Mapping[str, Any], notes: ResourceNotes) -> None:
    """Remarks are words to people; nothing is scheduled from them, so a person must see them."""
    for place, remark in enumerate(request.get("note", ())):
        path = f"MedicationRequest.note[{place}]"
        notes.add(Severity.NOTE, "order.remark", path, text=notes.text(remark.get("text", ""), path)[:500])


def _check_validity(request: Mapping[str, Any], on: date | None, notes: ResourceNotes) -> None:
    """A prescription may be supplied only while it is valid; partial dates reach to their last day."""
    period = request.get("dispenseRequest", {}).get("validityPeriod", {})
    if on is None:
        return
    day = on.isoformat()
    starts, ends = str(period.get("start", ""))[:10], str(period.get("end", ""))[:10]
    if starts and starts > day[: len(starts)]:
        notes.stop("order.not-yet-valid", "MedicationRequest.dispenseRequest.validityPeriod", value=starts, day=on)
    if ends and ends < day[: len(ends)]:
        notes.stop("order.no-longer-valid", "MedicationRequest.dispenseRequest.validityPeriod", value=ends, day=on)
