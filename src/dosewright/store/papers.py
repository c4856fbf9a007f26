"""What was printed ⇄ rows: byte for byte, with its hash. A reprint is a new copy; nothing printed is ever replaced."""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from django.db.models import Max

from dosewright.core.custody.event import Occasion
from dosewright.core.paper.copies import Copy
from dosewright.core.units.ids import CardNumber
from dosewright.store.models import PrintedPaper
from dosewright.store.value_json import format_value

__all__ = ["Sheet", "StoredPaper", "count_copies", "load_papers", "next_copy", "save_papers"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A finished document of one kind: labels, fill or record. `labels`: the names of each card's labels on it."""

    kind: str
    pdf: bytes
    labels: Mapping[CardNumber, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class StoredPaper:
    """A document as it was printed. `copy` counts from 1; `basis` is the plan's fingerprint that it bears,
    `reason` why a further copy was made."""

    kind: str
    copy: int
    pdf: bytes
    sha256: str
    basis: str
    made_at: datetime
    made_by: str = ""
    reason: str = ""


def next_copy(set_id: int, reason: str) -> Copy:
    """The copy that the set's paper will be when it is printed now; of a first one the reason counts for nothing.

    Raises ValueError for a further copy without a reason.
    """
    before = count_copies(set_id)
    return Copy(before + 1, reason) if before else Copy()


def count_copies(set_id: int) -> int:
    """How often the set's paper was printed."""
    return PrintedPaper.objects.filter(card_set_id=set_id).aggregate(most=Max("copy"))["most"] or 0


def save_papers(set_id: int, basis: str, sheets: Iterable[Sheet], copy: Copy, on: Occasion) -> tuple[str, ...]:
    """Keep the documents as that copy of the set's paper. Their hashes, in order."""
    return tuple(_save(set_id, basis, sheet, copy, on) for sheet in sheets)


def _save(set_id: int, basis: str, sheet: Sheet, copy: Copy, on: Occasion) -> str:
    sha256 = hashlib.sha256(sheet.pdf).hexdigest()
    said = {"kind": sheet.kind, "copy": copy.number, "content": sheet.pdf, "sha256": sha256, "basis": basis}
    more = {"made_at": on.at, "made_by": on.by.name, "reason": copy.reason, "labels": format_value(sheet.labels)}
    PrintedPaper.objects.create(card_set_id=set_id, **said, **more)
    return sha256


def load_papers(set_id: int) -> tuple[StoredPaper, ...]:
    """Everything that was printed for the set, latest copy first."""
    rows = PrintedPaper.objects.filter(card_set_id=set_id).order_by("-copy", "kind")
    return tuple(
        StoredPaper(row.kind, row.copy, bytes(row.content), row.sha256, row.basis, row.made_at, row.made_by, row.reason) for row in rows
    )
