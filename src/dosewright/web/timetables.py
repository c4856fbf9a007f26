"""Dosing times of the pharmacy, of homes and of people: looked at, and changed with a reason and their history."""

import json
from dataclasses import dataclass

from django import forms
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.change_times import change_times
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.interop.timetable_json import TimetableError, parse_timetable
from dosewright.core.units.dosing_time import DosingTime, Timetable
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.store.missing import Missing
from dosewright.store.people import load_home_names, load_person
from dosewright.store.whose_times import PHARMACY, WhoseTimes, has_own_times, load_homes_with_times, load_people_with_times, load_times_of
from dosewright.web.page import NOBODY, Strip, show, strip_of
from dosewright.web.record_history import Corrected, corrections_of
from dosewright.web.records import say_marked
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["ReasonOfTimes", "TimesRow", "TimetableLine", "TimetableScreen", "TimetablesScreen", "change", "timetables"]

_SPARE = 2  # empty rows for dosing times that are new
_OFTEN = {1: "once", 2: "twice", 3: "three", 4: "four"}


@dataclass(frozen=True, slots=True)
class TimetableLine:
    """Whose they are, and the times; `own` whether they follow nobody else's."""

    kind: str
    id: str
    whose: str
    own: bool
    slots: tuple[DosingTime, ...]


@dataclass(frozen=True, slots=True)
class TimetablesScreen:
    """The pharmacy's, each home's, and those of people who have their own; `query`: part of a name."""

    query: str
    lines: tuple[TimetableLine, ...]


@dataclass(frozen=True, slots=True)
class TimesRow:
    """One dosing time as its fields hold it."""

    at: int
    name: str
    clock: str
    when: str


@dataclass(frozen=True, slots=True)
class TimetableScreen:
    """`often`: for each of once to four times a day, the dosing times that are meant."""

    kind: str
    id: str
    title: str
    own: bool
    may_change: bool
    rows: tuple[TimesRow, ...]
    often: tuple[tuple[str, str, str], ...]
    reason: str
    findings: tuple[Finding, ...]
    history: tuple[Corrected, ...]
    token: str


class ReasonOfTimes(forms.Form):
    """Why they are changed."""

    reason = forms.CharField(label="Why, and who asked for it", max_length=1000, required=False)


def timetables(request: BenchRequest) -> HttpResponse:
    """All of them."""
    query = " ".join(request.GET.get("q", "").split())[:100]
    whose = [(PHARMACY, "The pharmacy’s own", True)]
    whose += [(WhoseTimes("home", home), name, own) for home, name, own in load_homes_with_times()]
    whose += [(WhoseTimes("person", person), name, True) for person, name in load_people_with_times()]
    lines = tuple(
        TimetableLine(one.kind, one.id, name, own, load_times_of(one).slots)
        for one, name, own in whose
        if query.casefold() in name.casefold()
    )
    return show(request, "records/timetables.html", TimetablesScreen(query, lines))


def change(request: BenchRequest, kind: str, whose: str) -> HttpResponse:
    """One of them: looked at by who may look, changed by a pharmacist."""
    of = _of(kind, whose)
    strip, name = _named(of)
    now = load_times_of(of)
    findings: tuple[Finding, ...] = ()
    if request.method == "POST":
        wanted, findings = (None, ()) if "follow" in request.POST else _read(request)
        if not findings:
            outcome = change_times(name, occasion(request), of, wanted, request.POST.get("reason", "")[:1000])
            if outcome.done:
                say_marked(request, outcome)
                return redirect("timetables")
            findings = outcome.findings
    rows, often = _typed(request) if request.method == "POST" and "follow" not in request.POST else _as_they_are(now)
    screen = TimetableScreen(
        kind=of.kind,
        id=whose,
        title=f"Dosing times of {name}",
        own=has_own_times(of),
        may_change=request.actor.role in RIGHTS[Ability.CHANGE_TIMES],
        rows=rows,
        often=often,
        reason=request.POST.get("reason", "")[:1000],
        findings=findings,
        history=corrections_of("times", name),
        token=new_token(),
    )
    return show(request, "records/times.html", screen, strip=strip, status=422 if request.method == "POST" else 200)


def _of(kind: str, whose: str) -> WhoseTimes:
    if kind == "pharmacy":
        return PHARMACY
    if kind not in ("home", "person"):
        raise Missing("dosing times", f"{kind} {whose}")
    return WhoseTimes(kind, whose)


def _named(of: WhoseTimes) -> tuple[Strip, str]:
    """The strip, and whose they are in words that the ledger keeps."""
    homes = load_home_names()
    if of.kind == "person":
        someone = load_person(PersonId(of.id))
        return strip_of(someone, homes.get(someone.home, "") if someone.home else ""), f"person {someone.id}"
    if of.kind == "home":
        if HomeId(of.id) not in homes:
            raise Missing("home", of.id)
        return NOBODY, f"home {homes[HomeId(of.id)]}"
    return NOBODY, "the pharmacy"


def _as_they_are(now: Timetable) -> tuple[tuple[TimesRow, ...], tuple[tuple[str, str, str], ...]]:
    rows = [TimesRow(at, slot.name, f"{slot.time:%H:%M}", " ".join(sorted(slot.when))) for at, slot in enumerate(now.slots)]
    rows += [TimesRow(len(rows) + at, "", "", "") for at in range(_SPARE)]
    often = tuple((word, _said_often(word), ", ".join(now.by_frequency.get(many, ()))) for many, word in _OFTEN.items())
    return tuple(rows), often


def _typed(request: BenchRequest) -> tuple[tuple[TimesRow, ...], tuple[tuple[str, str, str], ...]]:
    names, clocks, whens = (request.POST.getlist(field) for field in ("name", "clock", "when"))
    rows = tuple(TimesRow(at, *said) for at, said in enumerate(zip(names, clocks, whens, strict=False)))
    return rows, tuple((word, _said_often(word), request.POST.get(word, "")) for word in _OFTEN.values())


def _said_often(word: str) -> str:
    return {"three": "Three times a day", "four": "Four times a day"}.get(word, f"{word.capitalize()} a day")


def _read(request: BenchRequest) -> tuple[Timetable | None, tuple[Finding, ...]]:
    """The rows as a timetable, by the same reader as a timetable file. A row without a name is no dosing time."""
    rows, often = _typed(request)
    slots = [{"name": row.name.strip(), "time": row.clock.strip(), "when": row.when.split()} for row in rows if row.name.strip()]
    slots.sort(key=lambda slot: str(slot["time"]))
    said: dict[str, object] = {"slots": slots}
    for word, _, names in often:
        chosen = [name.strip() for name in names.split(",") if name.strip()]
        if chosen:
            said[word] = chosen[0] if word == "once" and len(chosen) == 1 else chosen
    try:
        return parse_timetable(json.dumps(said)), ()
    except TimetableError as error:
        return None, (Finding("custody.timetable-wrong", Severity.STOP, facts={"why": str(error)}),)
