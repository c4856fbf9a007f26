"""What was printed ⇄ rows: byte for byte, with its hash. A reprint is a new copy; nothing printed is ever replaced."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from dosewright.core.custody.event import Occasion
from dosewright.store.models import PrintedPaper

__all__ = ["Sheet", "StoredPaper", "load_papers", "save_papers"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A finished document of one kind: labels, fill or record."""

    kind: str
    pdf: bytes


@dataclass(frozen=True, slots=True)
class StoredPaper:
    """A document as it was printed. `copy` counts from 1; `basis` is the plan's fingerprint that it bears."""

    kind: str
    copy: int
    pdf: bytes
    sha256: str
    basis: str
    made_at: datetime


def save_papers(set_id: int, basis: str, sheets: Iterable[Sheet], on: Occasion) -> tuple[str, ...]:
    """Keep the documents as the set's next copy. Their hashes, in order."""
    return tuple(_save(set_id, basis, sheet, on) for sheet in sheets)


def _save(set_id: int, basis: str, sheet: Sheet, on: Occasion) -> str:
    copy = PrintedPaper.objects.filter(card_set_id=set_id, kind=sheet.kind).count() + 1
    sha256 = hashlib.sha256(sheet.pdf).hexdigest()
    said = {"kind": sheet.kind, "copy": copy, "content": sheet.pdf, "sha256": sha256, "basis": basis, "made_at": on.at}
    PrintedPaper.objects.create(card_set_id=set_id, **said)
    return sha256


def load_papers(set_id: int) -> tuple[StoredPaper, ...]:
    """Everything that was printed for the set, latest copy first."""
    rows = PrintedPaper.objects.filter(card_set_id=set_id).order_by("-copy", "kind")
    return tuple(StoredPaper(row.kind, row.copy, bytes(row.content), row.sha256, row.basis, row.made_at) for row in rows)
