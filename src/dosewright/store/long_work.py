"""Long work ⇄ rows. It is no part of the record: what it does is, action by action, in the ledger like everything else."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from dosewright.core.custody.event import Actor, Occasion
from dosewright.core.units.ids import StationId
from dosewright.store.accounts import actor_of
from dosewright.store.missing import Missing
from dosewright.store.models import LongWorkRow, WorkStepRow

__all__ = [
    "LongWork",
    "WorkStep",
    "is_cancelled",
    "load_steps",
    "load_work",
    "load_work_lately",
    "next_step_of",
    "save_beat",
    "save_cancel",
    "save_step",
    "save_work",
    "stalled_work",
]


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One part: whom or what it is about, and the outcome as canonical JSON, "" while it was not tried."""

    position: int
    subject: str
    outcome: str


@dataclass(frozen=True, slots=True)
class LongWork:
    """`by` is who asked for it, with the role that they have now; None where their account is closed. `done` of `of` parts were tried."""

    id: int
    kind: str
    asked: str
    by: Actor | None
    by_name: str
    station: StationId
    made_at: datetime
    state: str
    cancel: bool
    done: int
    of: int

    @property
    def over(self) -> bool:
        """Whether nothing more will come of it."""
        return self.state in {"done", "cancelled"}


def save_work(kind: str, asked: str, subjects: Iterable[str], on: Occasion) -> int:
    """Keep what is to be done. The work's id."""
    said = {"kind": kind, "asked": asked, "by_id": on.by.id, "station": on.station, "made_at": on.at, "beat_at": on.at}
    row = LongWorkRow.objects.create(**said)
    WorkStepRow.objects.bulk_create(
        WorkStepRow(work=row, position=number, subject=subject) for number, subject in enumerate(subjects, start=1)
    )
    return row.pk


def load_work(work_id: int) -> LongWork:
    """Raises Missing."""
    row = LongWorkRow.objects.select_related("by").filter(pk=work_id).first()
    if row is None:
        raise Missing("work", str(work_id))
    return _work(row)


def load_work_lately(since: datetime) -> tuple[LongWork, ...]:
    """What is not over, and what moved since then; the latest first."""
    rows = LongWorkRow.objects.select_related("by").filter(beat_at__gte=since).order_by("-id")
    unfinished = LongWorkRow.objects.select_related("by").filter(state__in=["waiting", "working"]).order_by("-id")
    return tuple(_work(row) for row in {row.pk: row for row in (*rows, *unfinished)}.values())


def _work(row: LongWorkRow) -> LongWork:
    by = actor_of(row.by) if row.by.is_active else None
    tried = row.steps.exclude(outcome="").count()
    said = (row.pk, row.kind, row.asked, by, row.by.name, StationId(row.station), row.made_at, row.state, row.cancel)
    return LongWork(*said, done=tried, of=row.steps.count())


def load_steps(work_id: int) -> tuple[WorkStep, ...]:
    """Every part, in order."""
    rows = WorkStepRow.objects.filter(work_id=work_id).order_by("position")
    return tuple(WorkStep(row.position, row.subject, row.outcome) for row in rows)


def next_step_of(work_id: int) -> WorkStep | None:
    """The first part that was not tried yet."""
    row = WorkStepRow.objects.filter(work_id=work_id, outcome="").order_by("position").first()
    return WorkStep(row.position, row.subject, row.outcome) if row else None


def is_cancelled(work_id: int) -> bool:
    """Whether somebody wants no more of it done."""
    return LongWorkRow.objects.filter(pk=work_id, cancel=True).exists()


def save_beat(work_id: int, state: str, at: datetime) -> None:
    """It moved, and stands so."""
    LongWorkRow.objects.filter(pk=work_id).update(state=state, beat_at=at)


def save_step(work_id: int, position: int, outcome: str) -> None:
    """What came of one part."""
    WorkStepRow.objects.filter(work_id=work_id, position=position).update(outcome=outcome)


def save_cancel(work_id: int) -> None:
    """No further part is begun. Raises Missing."""
    if not LongWorkRow.objects.filter(pk=work_id).update(cancel=True):
        raise Missing("work", str(work_id))


def stalled_work(now: datetime, quiet: timedelta) -> tuple[int, ...]:
    """Work that is not over and has not moved for so long: whoever did it has stopped."""
    rows = LongWorkRow.objects.filter(state__in=["waiting", "working"], beat_at__lt=now - quiet).order_by("id")
    return tuple(rows.values_list("pk", flat=True))
