"""Near misses and what changed meanwhile ⇄ rows; the checks that they are counted against."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from dosewright.core.checking.turn import Turn
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.near_miss import Cause, Harm, NearMissKind, NoticedAt, Origin
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber
from dosewright.store.missing import Missing
from dosewright.store.models import ChartNote, LedgerEntry, NearMiss

__all__ = [
    "StoredNearMiss",
    "StoredTurn",
    "is_noted",
    "load_near_misses",
    "load_outcomes_of_checks",
    "load_turns",
    "save_near_miss",
    "save_turn",
    "save_turn_taken_back",
]


@dataclass(frozen=True, slots=True)
class StoredNearMiss:
    """One error caught before release. `card` "" and `stage` None where it was noted without a card."""

    at: datetime
    card: CardNumber
    stage: Stage | None
    kind: NearMissKind
    found_by: str
    note: str
    noticed: NoticedAt = NoticedAt.CHECK
    origin: Origin = Origin.CHECK
    cause: Cause = Cause.NOT_KNOWN
    harm: Harm = Harm.NOT_KNOWN


def save_near_miss(found: StoredNearMiss, entry: int) -> None:
    """Keep what was found; `entry` is the ledger's number of the event that says so."""
    words = {name: getattr(found, name).value for name in ("kind", "noticed", "origin", "cause", "harm")}
    stage = found.stage.value if found.stage else ""
    NearMiss.objects.create(at=found.at, entry=entry, card=found.card, stage=stage, found_by=found.found_by, note=found.note, **words)


def load_near_misses(card: CardNumber | None = None, since: datetime | None = None) -> tuple[StoredNearMiss, ...]:
    """All of them, or one card's, or those since a moment; latest first."""
    rows = NearMiss.objects.order_by("-at", "-id")
    rows = rows.filter(card=card) if card is not None else rows
    return tuple(map(_near_miss, rows.filter(at__gte=since) if since else rows))


def _near_miss(row: NearMiss) -> StoredNearMiss:
    return StoredNearMiss(
        at=row.at,
        card=CardNumber(row.card),
        stage=Stage(row.stage) if row.stage else None,
        kind=NearMissKind(row.kind),
        found_by=row.found_by,
        note=row.note,
        noticed=NoticedAt(row.noticed),
        origin=Origin(row.origin),
        cause=Cause(row.cause),
        harm=Harm(row.harm),
    )


def is_noted(card: CardNumber, origin: Origin, note: str, since: datetime) -> bool:
    """Whether the bench noted the same of this card since then: a bottle that is scanned three times was fetched once."""
    return NearMiss.objects.filter(card=card, origin=origin.value, note=note, at__gte=since).exists()


def load_outcomes_of_checks() -> tuple[tuple[datetime, ...], tuple[datetime, ...]]:
    """The moments at which a card was accepted, and those at which one was sent back, each in order of time."""
    return _moments(Deed.CHECKED), _moments(Deed.SENT_BACK)


def _moments(deed: Deed) -> tuple[datetime, ...]:
    rows: Iterable[datetime] = LedgerEntry.objects.filter(event=deed.value, subject_kind="card").values_list("at", flat=True)
    return tuple(sorted(rows))


@dataclass(frozen=True, slots=True)
class StoredTurn:
    """What changed on a day, who said so, and what follows for the limits."""

    id: int
    day: date
    text: str
    turn: Turn
    said_by: str
    said_at: datetime


def save_turn(day: date, text: str, turn: Turn, on: Occasion) -> int:
    """Its number."""
    return int(ChartNote.objects.create(day=day, text=text, turn=turn.value, said_by=on.by.name, said_at=on.at).pk)


def save_turn_taken_back(note: int) -> StoredTurn:
    """It stands on the charts no more. What it was. Raises Missing."""
    row = ChartNote.objects.select_for_update().filter(pk=note, taken_back=False).first()
    if row is None:
        raise Missing("note", str(note))
    ChartNote.objects.filter(pk=note).update(taken_back=True)
    return _turn(row)


def load_turns() -> tuple[StoredTurn, ...]:
    """Those that stand, by day."""
    return tuple(map(_turn, ChartNote.objects.filter(taken_back=False).order_by("day", "id")))


def _turn(row: ChartNote) -> StoredTurn:
    return StoredTurn(row.pk, row.day, row.text, Turn(row.turn), row.said_by, row.said_at)
