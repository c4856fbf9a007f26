"""Orders that could not be used ⇄ rows: as received, with what was found, and what became of each."""

from dataclasses import dataclass

from django.db.models import Q

from dosewright.core.custody.event import Occasion
from dosewright.core.custody.unused import UnusedOrder, UnusedStanding
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.store.missing import Missing
from dosewright.store.models import UnusedOrderRow
from dosewright.store.value_json import format_value, parse_value

__all__ = [
    "StoredUnused",
    "count_unused",
    "load_unused",
    "load_waiting_unused",
    "lock_unused",
    "save_replaced",
    "save_unused",
    "save_unused_settled",
]

_LONGEST = 340  # characters of an id; a longer one is an id of nobody here


@dataclass(frozen=True, slots=True)
class StoredUnused:
    """An order that could not be used, its file's name, and what became of it."""

    id: int
    unused: UnusedOrder
    file: str
    standing: UnusedStanding


def save_unused(unused: UnusedOrder, file: int) -> int | None:
    """Keep an order that could not be used; None where the very same came before, last of all by this id. Its id."""
    value = format_value(unused)
    person, source = unused.person[:_LONGEST], unused.order[:_LONGEST]
    known = UnusedOrderRow.objects.filter(person=person, source=source).order_by("-pk")
    same = known.first() if source else known.filter(value=value).first()
    if same is not None and same.standing != UnusedStanding.REPLACED and _essence(parse_value(UnusedOrder, same.value)) == _essence(unused):
        return None
    return UnusedOrderRow.objects.create(file_id=file, person=person, source=source, value=value).pk


def _essence(unused: UnusedOrder) -> tuple[str, tuple[str, ...], tuple[PersonId, ...]]:
    return unused.text, tuple(finding.code for finding in unused.findings), unused.holds


def load_unused(number: int) -> StoredUnused:
    """Raises Missing."""
    return _one(UnusedOrderRow.objects.select_related("file").filter(pk=number).first(), number)


def lock_unused(number: int) -> StoredUnused:
    """The order, kept from the other stations until the transaction ends. Raises Missing."""
    return _one(UnusedOrderRow.objects.select_for_update(of=("self",)).select_related("file").filter(pk=number).first(), number)


def load_waiting_unused(person: PersonId | None = None) -> tuple[StoredUnused, ...]:
    """Those that wait for a pharmacist, in order of arrival: all of them, or those that hold one person's planning."""
    rows = UnusedOrderRow.objects.filter(standing=UnusedStanding.WAITING.value).select_related("file").order_by("pk")
    if person is not None:
        rows = rows.filter(Q(person=person) | Q(person=""))
    return tuple(stored for stored in map(_stored, rows) if person is None or person in stored.unused.holds)


def count_unused() -> dict[PersonId, int]:
    """How many of them each person waits for."""
    held = [person for stored in load_waiting_unused() for person in stored.unused.holds]
    return {person: held.count(person) for person in held}


def save_unused_settled(number: int, standing: UnusedStanding, on: Occasion, reason: str) -> None:
    """What became of it, who said so, when and why."""
    UnusedOrderRow.objects.filter(pk=number).update(
        standing=standing.value, settled_by=on.by.name, settled_by_id=on.by.id, settled_at=on.at, reason=reason
    )


def save_replaced(person: PersonId, order: OrderId, on: Occasion, reason: str) -> tuple[int, ...]:
    """The same order came in again and can be used: those of its id wait no more. Their ids.

    A row of a line that was changed is called "number@start" where it can be used, and by its number alone where it cannot.
    """
    line = order.split("@")[0]
    rows = UnusedOrderRow.objects.select_for_update().filter(person=person, source__in={order, line}, standing=UnusedStanding.WAITING.value)
    found = tuple(rows.order_by("pk").values_list("pk", flat=True))
    for number in found:
        save_unused_settled(number, UnusedStanding.REPLACED, on, reason)
    return found


def _one(row: UnusedOrderRow | None, number: int) -> StoredUnused:
    if row is None:
        raise Missing("unused order", str(number))
    return _stored(row)


def _stored(row: UnusedOrderRow) -> StoredUnused:
    return StoredUnused(row.pk, parse_value(UnusedOrder, row.value), row.file.name, UnusedStanding(row.standing))
