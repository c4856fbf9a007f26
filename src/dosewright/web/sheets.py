"""Sheets on demand: a person's, a check sheet, a month's records, a round list, a manifest. Made, kept, looked at, printed."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from io import BytesIO
from typing import Any

import pypdfium2
from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.make_sheet import Asked, Wanted, make_sheet
from dosewright.actions.sheets_wanted import (
    check_of_set,
    lots_of_set,
    manifest_of,
    month_of_home,
    month_of_person,
    rest_of_set,
    round_of_home,
    sheet_of_person,
)
from dosewright.core.paper.person_sheet import GIANT, LARGE
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.store.made_papers import MadeSheet, load_made, load_made_lately
from dosewright.store.people import load_home_names, load_people
from dosewright.store.printers import load_printers
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, local, new_token, occasion, today

__all__ = ["LANGUAGES", "SIZES", "MadeLine", "OneSheet", "SheetForm", "SheetsScreen", "sheet", "sheet_file", "sheet_page", "sheets"]

_SCALE = 1.4  # pixels a point
LANGUAGES = (("en", "English"), ("fr", "French"), ("es", "Spanish"), ("de", "German"))
SIZES = ((f"{LARGE:g}", "Large print, 18 points"), (f"{GIANT:g}", "Giant print, 24 points"))
_OF_A_SET = ("person", "check", "lots", "rest")
_FOR_ONE = ("record", "manifest")  # for a person as well as for a home


class SheetForm(forms.Form):
    """What to make. Only what the kind needs is asked for and looked at."""

    kind = forms.ChoiceField(choices=[(kind, kind) for kind in ("person", "check", "lots", "rest", "record", "round", "manifest")])
    set_id = forms.IntegerField(required=False, min_value=1)
    size = forms.ChoiceField(required=False, choices=SIZES)
    lang = forms.ChoiceField(required=False, choices=LANGUAGES)
    where = forms.CharField(required=False, max_length=400)
    month = forms.RegexField(r"^\d{4}-(0[1-9]|1[0-2])$", required=False)
    day = forms.DateField(required=False)
    time = forms.TimeField(required=False)
    printer = forms.CharField(required=False, max_length=60)
    reason = forms.CharField(required=False, max_length=400)

    def clean(self) -> dict[str, Any]:
        """Each kind has what it needs."""
        said: dict[str, Any] = super().clean() or {}
        needed = {
            "person": ("set_id",),
            "check": ("set_id",),
            "lots": ("set_id",),
            "rest": ("set_id", "day"),
            "record": ("where", "month"),
            "round": ("where", "day"),
            "manifest": ("where", "day"),
        }
        for name in needed.get(said.get("kind", ""), ()):
            if not said.get(name):
                self.add_error(name, "Choose one.")
        return said


@dataclass(frozen=True, slots=True)
class MadeLine:
    """A sheet made before."""

    id: int
    title: str
    made_at: datetime
    made_by: str


@dataclass(frozen=True, slots=True)
class SheetsScreen:
    """`homes` and `people` to choose from; `chosen` is who is chosen already ("home lindens", "person p1")."""

    homes: tuple[tuple[str, str], ...]
    people: tuple[tuple[str, str], ...]
    chosen: str
    month: str
    day: str
    made: tuple[MadeLine, ...]
    findings: tuple[Finding, ...]
    wrong: str
    token: str
    printer: str
    printers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OneSheet:
    """A sheet as it was made, page by page. `copy`: above 1, labels that were made again, for that `reason`."""

    title: str
    sha256: str
    made_at: datetime
    made_by: str
    pages: tuple[str, ...]
    url: str
    findings: tuple[Finding, ...]
    copy: int
    reason: str


def sheets(request: BenchRequest) -> HttpResponse:
    """Choose what to make; by POST, make it."""
    if request.method != "POST":
        return _show(request, (), "")
    form = SheetForm(request.POST)
    if not form.is_valid():
        return _show(request, (), "Choose whose sheet it is to be, and for when.", status=422)
    wanted = _wanted(form.cleaned_data, local(request.clock.now()).replace(tzinfo=None, second=0, microsecond=0))
    if wanted is None:
        return _show(request, (), "That is no home and nobody here. Choose from the list.", status=422)
    asked = Asked(form.cleaned_data["printer"], form.cleaned_data["reason"])
    outcome = make_sheet(wanted.name.subject, occasion(request), wanted, asked)
    if not outcome.done:
        return _show(request, outcome.findings, "", status=422)
    messages.success(request, "Made and kept, byte for byte. Look over each page, then print it.")
    return redirect("sheet", outcome.made[0])


def _wanted(said: dict[str, Any], made: datetime) -> Wanted | None:
    """None for a place or a person that is not there."""
    kind, name = said["kind"], said["where"].partition(" ")[2]
    if said["set_id"] and kind in _OF_A_SET:
        return _of_set(kind, said["set_id"], said, made)
    if said["where"].startswith("home ") and HomeId(name) in load_home_names():
        return _of_home(kind, HomeId(name), said, made)
    if said["where"].startswith("person ") and kind in _FOR_ONE and any(person.id == name for person in load_people()):
        one = PersonId(name)
        return month_of_person(one, _month(said), made) if kind == "record" else manifest_of(None, one, said["day"], made)
    return None


def _of_set(kind: str, set_id: int, said: dict[str, Any], made: datetime) -> Wanted:
    makers: dict[str, Callable[[], Wanted]] = {
        "person": lambda: sheet_of_person(set_id, float(said["size"] or LARGE), said["lang"] or "en", made),
        "check": lambda: check_of_set(set_id, made),
        "lots": lambda: lots_of_set(set_id),
        "rest": lambda: rest_of_set(set_id, Moment(said["day"], said["time"] or time(0))),
    }
    return makers[kind]()


def _of_home(kind: str, home: HomeId, said: dict[str, Any], made: datetime) -> Wanted:
    makers: dict[str, Callable[[], Wanted]] = {
        "record": lambda: month_of_home(home, _month(said), made),
        "round": lambda: round_of_home(home, said["day"], made),
        "manifest": lambda: manifest_of(home, None, said["day"], made),
    }
    return makers[kind]()


def _month(said: dict[str, Any]) -> date:
    return date.fromisoformat(f"{said['month']}-01")


def _show(request: BenchRequest, findings: tuple[Finding, ...], wrong: str, status: int = 200) -> HttpResponse:
    day = today(request)
    said = request.POST if request.method == "POST" else request.GET
    homes = load_home_names()
    screen = SheetsScreen(
        homes=tuple((f"home {home}", name) for home, name in sorted(homes.items(), key=lambda one: one[1].casefold())),
        people=tuple(
            (f"person {person.id}", _named(person.name, homes.get(person.home, "") if person.home else "")) for person in load_people()
        ),
        chosen=said.get("where", "")[:400],
        month=said.get("month", "")[:7] or f"{day:%Y-%m}",
        day=said.get("day", "")[:10] or day.isoformat(),
        made=tuple(MadeLine(one.id, one.name.title, local(one.made_at), one.made_by) for one in load_made_lately()),
        findings=with_names(findings),
        wrong=wrong,
        token=new_token(),
        printer=said.get("printer", "")[:60],
        printers=tuple(one.name for one in load_printers()),
    )
    return show(request, "paper/sheets.html", screen, status=status)


def _named(name: str, home: str) -> str:
    return f"{name}, {home}" if home else name


def sheet(request: BenchRequest, sheet: int) -> HttpResponse:
    """One sheet, to be looked over and printed."""
    made = load_made(sheet)
    document = pypdfium2.PdfDocument(made.pdf)
    pages = len(document)
    document.close()
    pictures = tuple(reverse("sheet-page", args=[sheet, page]) for page in range(1, pages + 1))
    screen = OneSheet(
        made.name.title,
        made.sha256,
        local(made.made_at),
        made.made_by,
        pictures,
        reverse("sheet-file", args=[sheet]),
        with_names(made.notes),
        made.copy.number,
        made.copy.reason,
    )
    return show(request, "paper/sheet.html", screen)


def sheet_file(request: BenchRequest, sheet: int) -> HttpResponse:
    """The PDF itself, as it was made."""
    made: MadeSheet = load_made(sheet)
    name = f"{made.name.kind}-{sheet}.pdf"
    return HttpResponse(made.pdf, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'})


def sheet_page(request: BenchRequest, sheet: int, page: int) -> HttpResponse:
    """One page of exactly those bytes as a picture."""
    document = pypdfium2.PdfDocument(load_made(sheet).pdf)
    try:
        if not 1 <= page <= len(document):
            raise Http404
        picture = document[page - 1].render(scale=_SCALE).to_pil()
    finally:
        document.close()
    png = BytesIO()
    picture.convert("L").save(png, "PNG")
    return HttpResponse(png.getvalue(), content_type="image/png")
