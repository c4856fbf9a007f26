"""Printed labels ⇄ rows: which labels a document had for which card, and which of them were voided."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from dosewright.core.custody.event import Occasion
from dosewright.core.custody.label_account import CardLife, LabelSheet
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber
from dosewright.store.models import CardRow, MadePaper, PrintedPaper, VoidedLabel
from dosewright.store.value_json import parse_value

__all__ = ["StoredLabels", "load_card_lives", "load_label_sheets", "load_sets_to_account", "save_voided"]

_LABELS = "labels"
_ON_DEMAND = ("lots", "rest")  # kinds of sheets made on demand that are labels of cards


@dataclass(frozen=True, slots=True)
class StoredLabels:
    """The labels of one card on one document, and what document that was: `title` "" for a set's own labels."""

    sheet: LabelSheet
    title: str
    copy: int
    reason: str
    made_at: datetime
    made_by: str


def load_label_sheets(sets: Iterable[int]) -> Mapping[int, tuple[StoredLabels, ...]]:
    """Of each set every document with labels, card by card, the first printed first."""
    wanted = tuple(sets)
    found: dict[int, list[StoredLabels]] = defaultdict(list)
    papers = PrintedPaper.objects.filter(card_set_id__in=wanted, kind=_LABELS).defer("content").prefetch_related("voided")
    made = MadePaper.objects.filter(subject__in=[f"set {one}" for one in wanted], kind__in=_ON_DEMAND).defer("content")
    for paper in papers:
        found[paper.card_set_id] += _sheets(f"p{paper.pk}", "", paper)
    for sheet in made.prefetch_related("voided"):
        found[int(sheet.subject.removeprefix("set "))] += _sheets(f"m{sheet.pk}", sheet.title, sheet)
    return {one: tuple(sorted(sheets, key=lambda stored: (stored.made_at, stored.sheet.id))) for one, sheets in found.items()}


def _sheets(name: str, title: str, row: PrintedPaper | MadePaper) -> list[StoredLabels]:
    voided: dict[str, dict[str, str]] = defaultdict(dict)
    for one in row.voided.all():
        voided[one.card][one.label] = one.reason
    labels = parse_value(dict[CardNumber, tuple[str, ...]], row.labels)
    return [
        StoredLabels(LabelSheet(name, card, names, voided[card]), title, row.copy, row.reason, row.made_at, row.made_by)
        for card, names in sorted(labels.items())
    ]


def load_card_lives(sets: Iterable[int]) -> Mapping[CardNumber, CardLife]:
    """Where each card of these sets stands."""
    rows = CardRow.objects.filter(card_set_id__in=tuple(sets)).values_list("number", "stage", "out_of_date")
    return {CardNumber(number): CardLife(Stage(stage), out_of_date=changed) for number, stage, changed in rows}


def load_sets_to_account() -> tuple[int, ...]:
    """The sets that may have labels not accounted for: printed more than once, or with a card that changed or came to its end."""
    again = PrintedPaper.objects.filter(kind=_LABELS, copy__gt=1).values_list("card_set_id", flat=True)
    made = MadePaper.objects.filter(kind__in=_ON_DEMAND).values_list("subject", flat=True)
    ended = CardRow.objects.filter(Q(out_of_date=True) | Q(stage__in=(Stage.WITHDRAWN.value, Stage.RETURNED.value)))
    of_made = {int(subject.removeprefix("set ")) for subject in made}
    return tuple(sorted({*again, *of_made, *ended.values_list("card_set_id", flat=True)}))


def save_voided(sheet: LabelSheet, labels: Iterable[str], reason: str, on: Occasion) -> None:
    """These labels of the sheet are voided from now on."""
    document = {"paper_id" if sheet.id.startswith("p") else "made_id": int(sheet.id[1:])}
    said = {"card": sheet.card, "reason": reason, "voided_at": on.at, "voided_by": on.by.name}
    VoidedLabel.objects.bulk_create([VoidedLabel(label=label, **document, **said) for label in labels])
