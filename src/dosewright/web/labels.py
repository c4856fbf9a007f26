"""Where the printed labels are: on cards, voided with a reason, or not accounted for. And the form that voids some."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.void_labels import Voiding, void_labels
from dosewright.core.custody.label_account import Accounted, Standing, Why, account_for
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.packing.plan_values import Card
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import StoredSet, load_set
from dosewright.store.label_sheets import StoredLabels, load_card_lives, load_label_sheets, load_sets_to_account
from dosewright.store.people import load_home_names
from dosewright.web.dates import short_day
from dosewright.web.findings import with_names
from dosewright.web.page import show, strip_of
from dosewright.web.request import BenchRequest, local, new_token, occasion

__all__ = ["LabelLine", "LabelsScreen", "OpenSet", "SetLabelsScreen", "SheetLine", "labels", "set_labels"]

_WHY: Mapping[Why, str] = {
    Why.LATER_COPY: "a later copy was printed",
    Why.CARD_CHANGED: "the card's orders have changed",
    Why.CARD_OVER: "the card is out of use",
}
_GONE: Mapping[Why, str] = {
    Why.DESTROYED: "destroyed with the card",
    Why.REPLACED: "destroyed when the new labels went on the card",
}


@dataclass(frozen=True, slots=True)
class LabelLine:
    """One label: its name in the form, the words for it, and what is known of it."""

    name: str
    words: str
    standing: str
    voidable: bool


@dataclass(frozen=True, slots=True)
class SheetLine:
    """The labels of one card on one printed document, with how many are in use, voided, not accounted for (and why)."""

    sheet: str
    card: str
    number: str
    title: str
    because: str
    made_at: datetime
    made_by: str
    in_use: int
    voided: int
    open: int
    why: str
    reasons: tuple[str, ...]
    labels: tuple[LabelLine, ...]


@dataclass(frozen=True, slots=True)
class SetLabelsScreen:
    """Every sheet of labels of a set, the first printed first."""

    set_id: int
    sheets: tuple[SheetLine, ...]
    open: int
    findings: tuple[Finding, ...]
    token: str


@dataclass(frozen=True, slots=True)
class OpenSet:
    """A set with labels that are not accounted for."""

    url: str
    name: str
    first: date
    last: date
    many: int


@dataclass(frozen=True, slots=True)
class LabelsScreen:
    """All such sets."""

    sets: tuple[OpenSet, ...]


def labels(request: BenchRequest) -> HttpResponse:
    """The sets whose labels are not all accounted for."""
    wanted = load_sets_to_account()
    stored, lives = load_label_sheets(wanted), load_card_lives(wanted)
    counted = ((one, _open(account_for((s.sheet for s in stored.get(one, ())), lives))) for one in wanted)
    return show(request, "paper/labels.html", LabelsScreen(tuple(_open_set(one, many) for one, many in counted if many)))


def _open(accounted: Iterable[Accounted]) -> int:
    return sum(one.standing is Standing.UNACCOUNTED for one in accounted)


def _open_set(set_id: int, many: int) -> OpenSet:
    found = load_set(set_id)
    last = found.plan.first + timedelta(days=found.plan.days - 1)
    return OpenSet(reverse("set-labels", args=[set_id]), found.person.name, found.plan.first, last, many)


def set_labels(request: BenchRequest, set_id: int) -> HttpResponse:
    """The labels of one set; by POST, those that are ticked are voided."""
    found = load_set(set_id)
    if request.method != "POST":
        return _show(request, found, ())
    card = CardNumber(request.POST.get("card", "")[:40])
    what = Voiding(request.POST.get("sheet", "")[:20], card, tuple(request.POST.getlist("label")), request.POST.get("reason", "")[:200])
    outcome = void_labels(set_id, occasion(request), what)
    if not outcome.done:
        return _show(request, found, outcome.findings, status=422)
    messages.success(request, f"{len(what.labels)} labels are voided, and the record says why.")
    return redirect("set-labels", set_id)


def _show(request: BenchRequest, found: StoredSet, findings: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    stored = load_label_sheets((found.id,)).get(found.id, ())
    accounted = account_for((one.sheet for one in stored), load_card_lives((found.id,)))
    screen = SetLabelsScreen(
        set_id=found.id,
        sheets=tuple(_line(one, accounted, found) for one in stored),
        open=_open(accounted),
        findings=with_names(findings),
        token=new_token(),
    )
    home = load_home_names().get(found.person.home, "") if found.person.home else ""
    return show(request, "paper/set_labels.html", screen, strip=strip_of(found.person, home, plan=found.plan.basis), status=status)


def _line(stored: StoredLabels, accounted: Iterable[Accounted], found: StoredSet) -> SheetLine:
    sheet = stored.sheet
    mine = [one for one in accounted if (one.sheet, one.card) == (sheet.id, sheet.card)]
    card = next(one.card for one in found.cards if one.number == sheet.card)
    count = Counter(one.standing for one in mine)
    return SheetLine(
        sheet=sheet.id,
        card=sheet.card,
        number=format_card_number(sheet.card),
        title=f"{stored.title or 'Card labels'}, copy {stored.copy}",
        because=stored.reason,
        made_at=local(stored.made_at),
        made_by=stored.made_by,
        in_use=count[Standing.IN_USE],
        voided=count[Standing.VOIDED],
        open=count[Standing.UNACCOUNTED],
        why=", ".join(dict.fromkeys(_WHY[one.why] for one in mine if one.standing is Standing.UNACCOUNTED)),
        reasons=tuple(dict.fromkeys(_voided(one) for one in mine if one.standing is Standing.VOIDED)),
        labels=tuple(_label(one, card) for one in mine),
    )


def _label(one: Accounted, card: Card) -> LabelLine:
    return LabelLine(one.label, _words(one.label, card), one.standing.value, one.standing is not Standing.VOIDED)


def _voided(one: Accounted) -> str:
    return _GONE.get(one.why, one.reason)


def _words(label: str, card: Card) -> str:
    """ "header 2"; "Mon 2 Mar, 08:00 morning"; "row 3, column 1" of a card for when it is needed."""
    if label.startswith("h"):
        return f"header {label[1:]}"
    row, number = (int(part) for part in label[1:].split("-"))
    column = next(one for one in card.columns if one.column == number)
    if column.when_needed:
        return f"row {row}, column {number}"
    return f"{short_day(column.first + timedelta(days=row - 1))}, {column.time:%H:%M} {column.slot}"
