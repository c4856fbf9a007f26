"""Sheets made on demand ⇄ rows: byte for byte, with their hash. Nothing made is ever replaced; the next one is another row."""

import hashlib
from dataclasses import dataclass
from datetime import datetime

from dosewright.core.custody.event import Occasion
from dosewright.core.paper.copies import FIRST_COPY, Copy
from dosewright.core.paper.finish import Offered
from dosewright.core.units.finding import Finding
from dosewright.store.missing import Missing
from dosewright.store.models import MadePaper
from dosewright.store.value_json import format_value, parse_value

__all__ = ["MadeSheet", "NewSheet", "SheetName", "count_made", "load_made", "load_made_lately", "next_made", "save_made"]


@dataclass(frozen=True, slots=True)
class SheetName:
    """What a sheet is: its kind, what it is about ("home lindens"), and what people call it ("Round list, The Lindens, 2 March 2026")."""

    kind: str
    subject: str
    title: str


@dataclass(frozen=True, slots=True)
class NewSheet:
    """A sheet that was just drawn, with the fingerprint of its plans, what was found, and which copy it is."""

    name: SheetName
    offered: Offered
    basis: str
    notes: tuple[Finding, ...]
    copy: Copy = FIRST_COPY


@dataclass(frozen=True, slots=True)
class MadeSheet:
    """A sheet as it was made. `pdf` is b"" in lists. `notes`: what was found and held nothing up."""

    id: int
    name: SheetName
    pdf: bytes
    sha256: str
    basis: str
    notes: tuple[Finding, ...]
    made_at: datetime
    made_by: str
    copy: Copy = FIRST_COPY


def count_made(name: SheetName) -> int:
    """How often this very sheet was made."""
    return MadePaper.objects.filter(kind=name.kind, subject=name.subject, title=name.title[:200]).count()


def next_made(name: SheetName, reason: str) -> Copy:
    """The copy that a sheet of labels will be when it is made now. Raises ValueError for a further copy without a reason."""
    before = count_made(name)
    return Copy(before + 1, reason) if before else FIRST_COPY


def save_made(new: NewSheet, on: Occasion) -> MadeSheet:
    """Keep it."""
    name, pdf = new.name, new.offered.pdf
    row = MadePaper.objects.create(
        kind=name.kind,
        subject=name.subject,
        title=name.title[:200],
        content=pdf,
        sha256=hashlib.sha256(pdf).hexdigest(),
        basis=new.basis,
        notes=format_value(new.notes),
        made_at=on.at,
        made_by=on.by.name,
        copy=new.copy.number,
        reason=new.copy.reason,
        labels=format_value(new.offered.labels),
    )
    return _sheet(row, pdf)


def load_made(sheet: int) -> MadeSheet:
    """Raises Missing."""
    row = MadePaper.objects.filter(id=sheet).first()
    if row is None:
        raise Missing("sheet", str(sheet))
    return _sheet(row, bytes(row.content))


def load_made_lately(subject: str = "", most: int = 40) -> tuple[MadeSheet, ...]:
    """The latest first, without their bytes: of one subject, or of all."""
    rows = MadePaper.objects.defer("content").order_by("-made_at", "-id")
    return tuple(_sheet(row, b"") for row in (rows.filter(subject=subject) if subject else rows)[:most])


def _sheet(row: MadePaper, pdf: bytes) -> MadeSheet:
    name = SheetName(row.kind, row.subject, row.title)
    notes = parse_value(tuple[Finding, ...], row.notes)
    return MadeSheet(row.pk, name, pdf, row.sha256, row.basis, notes, row.made_at, row.made_by, Copy(row.copy, row.reason))
