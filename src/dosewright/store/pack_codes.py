"""Codes that are being taught ⇄ rows, and the codes that name a medicine by now."""

from dataclasses import dataclass
from datetime import datetime

from dosewright.core.custody.event import Occasion
from dosewright.core.supply.teaching import Taught
from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.store.models import MedicineCodeRow, TaughtCodeRow

__all__ = ["WaitingCode", "load_waiting_codes", "lock_waiting_code", "save_code", "save_dropped", "save_taught"]


@dataclass(frozen=True, slots=True)
class WaitingCode:
    """A code that a second person must scan: who said something of it first, and when. What they said is not in it."""

    gtin: Gtin
    by_id: str
    by: str
    at: datetime


def load_waiting_codes() -> tuple[WaitingCode, ...]:
    """The oldest first."""
    rows = TaughtCodeRow.objects.filter(standing="waiting").order_by("at", "id")
    return tuple(WaitingCode(Gtin(row.gtin), row.by_id, row.by, row.at) for row in rows)


def lock_waiting_code(gtin: Gtin) -> Taught | None:
    """What was said first of the code, kept from the other stations; None where nothing was."""
    row = TaughtCodeRow.objects.select_for_update().filter(gtin=gtin, standing="waiting").first()
    return Taught(gtin, MedicineCode(row.medicine_id), row.by_id) if row else None


def save_taught(said: Taught, on: Occasion) -> None:
    """The first of two has spoken."""
    TaughtCodeRow.objects.create(gtin=said.gtin, medicine_id=said.medicine, by_id=on.by.id, by=on.by.name, at=on.at)


def save_code(said: Taught) -> None:
    """Two have said the same: the code names the medicine from now on."""
    TaughtCodeRow.objects.filter(gtin=said.gtin, standing="waiting").update(standing="confirmed")
    MedicineCodeRow.objects.create(gtin=said.gtin, medicine_id=said.medicine)


def save_dropped(gtin: Gtin) -> bool:
    """What was said of the code counts no more. Whether anything waited."""
    return bool(TaughtCodeRow.objects.filter(gtin=gtin, standing="waiting").update(standing="dropped"))
