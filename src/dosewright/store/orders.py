"""Orders ⇄ rows: as received, as read, as confirmed. What was received is kept byte for byte and word for word."""

import hashlib
from dataclasses import dataclass, replace
from datetime import datetime

from django.db.models import QuerySet

from dosewright.core.custody.event import Occasion
from dosewright.core.interop.orders_in import ReceivedOrder
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Reading
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.missing import Missing
from dosewright.store.models import OrderFile, OrderRow
from dosewright.store.people import person_of
from dosewright.store.value_json import format_value, parse_value

__all__ = [
    "CameAs",
    "StoredOrder",
    "Verdict",
    "load_confirmed",
    "load_order",
    "load_orders_of",
    "load_waiting",
    "lock_order",
    "save_end",
    "save_order",
    "save_order_file",
    "save_settled",
]


@dataclass(frozen=True, slots=True)
class StoredOrder:
    """An order with everything that happened to it. `reading` is None where the directions came as structure.

    `status` is the reader's (read, decide, refuse), `standing` the pharmacist's (waiting, confirmed, rejected). `lang`: the language that
    its words were read in. `wording`: the remembered wording by which it was confirmed.
    """

    order: Order
    source: str
    revision: int
    person: Person
    medicine: Medicine
    status: str
    reading: Reading | None
    findings: tuple[Finding, ...]
    standing: str
    settled_by: str
    settled_at: datetime | None
    choice: int | None
    reason: str
    file: str
    lang: str
    wording: int | None


@dataclass(frozen=True, slots=True)
class CameAs:
    """What a file is called, of which kind it is (fhir, csv, form), and in which language its words are read."""

    name: str
    kind: str
    lang: str = "en"


def save_order_file(content: bytes, came: CameAs, on: Occasion, findings: tuple[Finding, ...]) -> int:
    """Keep a file byte for byte, with its hash and what was found about it as a whole. Its id."""
    row = OrderFile.objects.create(
        name=came.name[:300],
        lang=came.lang,
        kind=came.kind,
        content=content,
        sha256=hashlib.sha256(content).hexdigest(),
        received_at=on.at,
        received_by=on.by.name,
        findings=format_value(findings),
    )
    return row.pk


def save_order(received: ReceivedOrder, file: int | None) -> OrderId | None:
    """Keep an order that came in; None where the very same came before. The same id with other words is a revision, with its own id."""
    order = received.order
    value = format_value(replace(order, id=OrderId("")))
    known = OrderRow.objects.filter(source=order.id).order_by("-revision").first()
    if known and format_value(replace(parse_value(ReceivedOrder, known.received).order, id=OrderId(""))) == value:
        return None
    revision = known.revision + 1 if known else 1
    kept = replace(order, id=OrderId(order.id if revision == 1 else f"{order.id}~{revision}"))
    OrderRow.objects.create(
        id=kept.id,
        source=order.id,
        revision=revision,
        file_id=file,
        person_id=order.person,
        medicine_id=order.medicine,
        text=order.text,
        status=received.reading.status.value if received.reading else "read",
        received=format_value(received),
        value=format_value(kept),
        ends=order.until.day if order.until else None,
    )
    return kept.id


def lock_order(order: OrderId) -> StoredOrder:
    """The order, kept from the other stations until the transaction ends. Raises Missing."""
    return _one(OrderRow.objects.select_for_update(of=("self",)).filter(id=order).first(), order)


def load_order(order: OrderId) -> StoredOrder:
    """Raises Missing."""
    return _one(_rows().filter(id=order).first(), order)


def load_orders_of(person: PersonId) -> tuple[StoredOrder, ...]:
    """Every order the person ever had, in order of their ids."""
    return tuple(_stored(row) for row in _rows().filter(person_id=person).order_by("id"))


def load_waiting(person: PersonId | None = None) -> tuple[StoredOrder, ...]:
    """Orders that wait for a pharmacist, everybody's or one person's, by person."""
    rows = _rows().filter(standing="waiting").order_by("person__name", "person_id", "id")
    return tuple(_stored(row) for row in (rows.filter(person_id=person) if person else rows))


def load_confirmed(person: PersonId) -> tuple[Order, ...]:
    """The orders that may enter a plan: confirmed by a pharmacist, nothing else (R13)."""
    rows = OrderRow.objects.filter(person_id=person, standing="confirmed").order_by("id")
    return tuple(parse_value(Order, value) for value in rows.values_list("value", flat=True))


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a pharmacist made of an order: `standing` confirmed or rejected; which of the meanings laid out, by which remembered wording;
    why."""

    standing: str
    choice: int | None = None
    wording: int | None = None
    reason: str = ""


def save_settled(order: Order, verdict: Verdict, on: Occasion) -> None:
    """The order as it counts from now on, what became of it, who and when."""
    OrderRow.objects.filter(id=order.id).update(
        value=format_value(order),
        standing=verdict.standing,
        settled_by=on.by.name,
        settled_by_id=on.by.id,
        settled_at=on.at,
        choice=verdict.choice,
        reason=verdict.reason,
        wording_id=verdict.wording,
        ends=order.until.day if order.until else None,
    )


def save_end(order: Order, replaced_by: OrderId | None = None) -> None:
    """An order ends, by being stopped or replaced. Who confirmed it stays as it was."""
    ends = order.until.day if order.until else None
    OrderRow.objects.filter(id=order.id).update(value=format_value(order), ends=ends, replaced_by_id=replaced_by)


def _rows() -> QuerySet[OrderRow]:
    return OrderRow.objects.select_related("person", "medicine", "file")


def _one(row: OrderRow | None, order: OrderId) -> StoredOrder:
    if row is None:
        raise Missing("order", order)
    return _stored(row)


def _stored(row: OrderRow) -> StoredOrder:
    received = parse_value(ReceivedOrder, row.received)
    return StoredOrder(
        order=parse_value(Order, row.value),
        source=row.source,
        revision=row.revision,
        person=person_of(row.person),
        medicine=parse_value(Medicine, row.medicine.value),
        status=row.status,
        reading=received.reading,
        findings=received.findings,
        standing=row.standing,
        settled_by=row.settled_by,
        settled_at=row.settled_at,
        choice=row.choice,
        reason=row.reason,
        file=row.file.name if row.file else "",
        lang=row.file.lang if row.file else "en",
        wording=row.wording_id,
    )
