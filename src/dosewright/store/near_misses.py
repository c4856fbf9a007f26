"""Near misses ⇄ rows."""

from dataclasses import dataclass
from datetime import datetime

from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber
from dosewright.store.models import NearMiss

__all__ = ["StoredNearMiss", "load_near_misses", "save_near_miss"]


@dataclass(frozen=True, slots=True)
class StoredNearMiss:
    """One error caught before release."""

    at: datetime
    card: CardNumber
    stage: Stage
    kind: NearMissKind
    found_by: str
    note: str


def save_near_miss(found: StoredNearMiss, entry: int) -> None:
    """Keep what was found; `entry` is the ledger's number of the event that says so."""
    said = {"card": found.card, "stage": found.stage.value, "kind": found.kind.value, "found_by": found.found_by, "note": found.note}
    NearMiss.objects.create(at=found.at, entry=entry, **said)


def load_near_misses() -> tuple[StoredNearMiss, ...]:
    """All of them, latest first."""
    return tuple(
        StoredNearMiss(row.at, CardNumber(row.card), Stage(row.stage), NearMissKind(row.kind), row.found_by, row.note)
        for row in NearMiss.objects.order_by("-at", "-id")
    )
