"""Remembered wordings ⇄ rows: what was confirmed, by whom and why, how often it was used, and who revoked it."""

from dataclasses import dataclass
from datetime import datetime

from dosewright.core.custody.event import Occasion
from dosewright.core.custody.wordings import WHOLE_PHARMACY, Wording, WordingKey
from dosewright.core.units.ids import OrderId
from dosewright.store.missing import Missing
from dosewright.store.models import OrderRow, WordingRow
from dosewright.store.value_json import format_value, parse_value

__all__ = ["StoredWording", "find_wording", "load_wording", "load_wordings", "lock_wording", "save_wording", "save_wording_revoked"]


@dataclass(frozen=True, slots=True)
class StoredWording:
    """`order`: the one at which it was confirmed; `used`: how many orders were confirmed by it since."""

    id: int
    wording: Wording
    order: OrderId
    confirmed_by: str
    confirmed_at: datetime
    reason: str
    used: int
    revoked_by: str
    revoked_at: datetime | None
    revoked_because: str

    @property
    def revoked(self) -> bool:
        """Whether it says nothing any more."""
        return self.revoked_at is not None


def find_wording(key: WordingKey) -> StoredWording | None:
    """The wording in force for exactly this key: the home's own, else the whole pharmacy's; None where neither is remembered."""
    homes = {key.home, WHOLE_PHARMACY}
    held = WordingRow.objects.filter(text=key.text, lang=key.lang, country=key.country, form=key.form, unit=key.unit, home__in=homes)
    found = {row.home: row for row in held.filter(revoked_at__isnull=True)}
    row = found.get(key.home) or found.get(WHOLE_PHARMACY)
    return _stored(row) if row else None


def load_wordings() -> tuple[StoredWording, ...]:
    """All, those in force first, each group by its words."""
    return tuple(
        _stored(row) for row in sorted(WordingRow.objects.all(), key=lambda row: (row.revoked_at is not None, row.text, row.home, row.pk))
    )


def load_wording(number: int) -> StoredWording:
    """Raises Missing."""
    return _one(WordingRow.objects.filter(pk=number).first(), number)


def lock_wording(number: int) -> StoredWording:
    """The wording, kept from the other stations until the transaction ends: nobody confirms by it while it is revoked. Raises Missing."""
    WordingRow.objects.select_for_update().filter(pk=number).first()
    return load_wording(number)


def save_wording(wording: Wording, order: OrderId, on: Occasion, reason: str) -> int:
    """Remember it from now on. Its number."""
    key = wording.key
    row = WordingRow.objects.create(
        text=key.text,
        lang=key.lang,
        country=key.country,
        form=key.form,
        unit=key.unit,
        home=key.home,
        value=format_value(wording),
        order=order,
        confirmed_by=on.by.name,
        confirmed_by_id=on.by.id,
        confirmed_at=on.at,
        reason=reason,
    )
    return row.pk


def save_wording_revoked(number: int, on: Occasion, reason: str) -> None:
    """It says nothing any more, from now on."""
    WordingRow.objects.filter(pk=number).update(revoked_by=on.by.name, revoked_by_id=on.by.id, revoked_at=on.at, revoked_because=reason)


def _one(row: WordingRow | None, number: int) -> StoredWording:
    if row is None:
        raise Missing("wording", str(number))
    return _stored(row)


def _stored(row: WordingRow) -> StoredWording:
    return StoredWording(
        id=row.pk,
        wording=parse_value(Wording, row.value),
        order=OrderId(row.order),
        confirmed_by=row.confirmed_by,
        confirmed_at=row.confirmed_at,
        reason=row.reason,
        used=OrderRow.objects.filter(wording_id=row.pk, standing="confirmed").count(),
        revoked_by=row.revoked_by,
        revoked_at=row.revoked_at,
        revoked_because=row.revoked_because,
    )
