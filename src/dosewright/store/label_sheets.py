"""Printed labels ⇄ rows: which labels a document had for which card, and which of them were voided."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from django.db.models import Q

from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.label_account import CardLife, LabelSheet
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import load_card_events
from dosewright.store.models import CardRow, ChangeRow, MadePaper, PrintedPaper, VoidedLabel
from dosewright.store.value_json import parse_value

__all__ = ["StoredLabels", "load_card_lives", "load_label_sheets", "load_sets_to_account", "save_voided"]

_LABELS = "labels"
_ON_DEMAND = ("lots", "rest")  # kinds of sheets made on demand that are labels of cards
_OF_CHANGE = "change "  # the subject of sheets made for a change begins so; its labels are for cards of several sets


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
    for one, stored in _of_changes(wanted):
        found[one].append(stored)
    return {one: tuple(sorted(sheets, key=lambda stored: (stored.made_at, stored.sheet.id))) for one, sheets in found.items()}


def _of_changes(sets: tuple[int, ...]) -> Iterator[tuple[int, StoredLabels]]:
    """The labels made for changes of the people of these sets, each with the set of its card."""
    changes = ChangeRow.objects.filter(person__sets__in=sets).distinct().values_list("pk", flat=True)
    of_card = {CardNumber(number): one for number, one in CardRow.objects.filter(card_set_id__in=sets).values_list("number", "card_set_id")}
    made = MadePaper.objects.filter(subject__in=[f"{_OF_CHANGE}{one}" for one in changes], kind=_LABELS).defer("content")
    sheets = [stored for row in made.prefetch_related("voided") for stored in _sheets(f"m{row.pk}", row.title, row)]
    mine = sorted((one for one in sheets if one.sheet.card in of_card), key=lambda one: (one.made_at, one.sheet.id))
    on_cards = _gone_on(mine)
    for stored in mine:
        went_on = (stored.sheet.id, stored.sheet.card) in on_cards
        yield of_card[stored.sheet.card], replace(stored, sheet=replace(stored.sheet, went_on=went_on))


def _gone_on(sheets: Sequence[StoredLabels]) -> set[tuple[str, CardNumber]]:
    """Of the sheets of each card, in order, those that were the latest when the bench said that the new labels are on."""
    found: set[tuple[str, CardNumber]] = set()
    for card in {one.sheet.card for one in sheets}:
        for event in load_card_events(card):
            before = [one.sheet.id for one in sheets if one.sheet.card == card and one.made_at <= event.at]
            if event.deed is Deed.RELABELLED and before:
                found.add((before[-1], card))
    return found


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
    """The sets that may have labels not accounted for: printed more than once, relabelled for a change, or with a card that changed or came
    to its end."""
    again = PrintedPaper.objects.filter(kind=_LABELS, copy__gt=1).values_list("card_set_id", flat=True)
    made = MadePaper.objects.filter(kind__in=_ON_DEMAND).values_list("subject", flat=True)
    ended = CardRow.objects.filter(Q(out_of_date=True) | Q(stage__in=(Stage.WITHDRAWN.value, Stage.RETURNED.value)))
    of_made = {int(subject.removeprefix("set ")) for subject in made}
    relabelled = [
        card
        for labels in MadePaper.objects.filter(kind=_LABELS, subject__startswith=_OF_CHANGE).values_list("labels", flat=True)
        for card in parse_value(dict[CardNumber, tuple[str, ...]], labels)
    ]
    of_changes = CardRow.objects.filter(number__in=relabelled).values_list("card_set_id", flat=True)
    return tuple(sorted({*again, *of_made, *of_changes, *ended.values_list("card_set_id", flat=True)}))


def save_voided(sheet: LabelSheet, labels: Iterable[str], reason: str, on: Occasion) -> None:
    """These labels of the sheet are voided from now on."""
    document = {"paper_id" if sheet.id.startswith("p") else "made_id": int(sheet.id[1:])}
    said = {"card": sheet.card, "reason": reason, "voided_at": on.at, "voided_by": on.by.name}
    VoidedLabel.objects.bulk_create([VoidedLabel(label=label, **document, **said) for label in labels])
