"""Owings ⇄ rows: what sets still need that was not in stock."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from django.db.models import QuerySet

from dosewright.core.custody.event import Occasion
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import format_amount, parse_amount
from dosewright.store.models import OwingRow
from dosewright.store.people import person_of

__all__ = ["Owing", "load_owings", "load_owings_of", "save_owing", "settle_owing"]


@dataclass(frozen=True, slots=True)
class Owing:
    """So many whole units of a medicine, for whose set, since when, noted by whom."""

    set_id: int
    person: Person
    medicine: MedicineCode
    amount: Fraction
    since: datetime
    by: str


def load_owings() -> tuple[Owing, ...]:
    """All that is open, of sets that are not withdrawn; by medicine, the oldest first."""
    rows = _open().filter(card_set__withdrawn=False).select_related("card_set__person").defer("card_set__request", "card_set__plan")
    return tuple(_owing(row) for row in rows.order_by("medicine_id", "since", "id"))


def load_owings_of(sets: Iterable[int]) -> dict[int, int]:
    """How many medicines each of these sets still lacks; sets that lack none are left out."""
    found: dict[int, int] = {}
    for set_id in _open().filter(card_set_id__in=list(sets)).values_list("card_set_id", flat=True):
        found[set_id] = found.get(set_id, 0) + 1
    return found


def save_owing(set_id: int, medicine: MedicineCode, amount: Fraction, on: Occasion) -> None:
    """So much is owed now; what was noted before of the same is replaced."""
    said = {"amount": format_amount(amount), "since": on.at, "by": on.by.name}
    OwingRow.objects.update_or_create(card_set_id=set_id, medicine_id=medicine, settled_at=None, defaults=said)


def settle_owing(set_id: int, medicine: MedicineCode, on: Occasion) -> bool:
    """Nothing of the medicine is owed to the set any more. Whether anything was."""
    return bool(_open().filter(card_set_id=set_id, medicine_id=medicine).update(settled_at=on.at))


def _open() -> QuerySet[OwingRow]:
    return OwingRow.objects.filter(settled_at__isnull=True)


def _owing(row: OwingRow) -> Owing:
    amount = parse_amount(row.amount)
    return Owing(row.card_set_id, person_of(row.card_set.person), MedicineCode(row.medicine_id), amount, row.since, row.by)
