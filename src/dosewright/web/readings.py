"""Readings to confirm: the text as received beside the structure read from it, in a sentence and as fourteen days of dials."""

from dataclasses import dataclass, replace

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.outcome import Outcome
from dosewright.actions.reject_order import reject_order
from dosewright.core.custody.confirming import Confirmation, choices_of
from dosewright.core.interop.dosage_json import format_dosage
from dosewright.core.interop.json_text import format_json
from dosewright.core.paper.medicine_words import named
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus, Setting
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId
from dosewright.store.orders import StoredOrder, load_confirmed, load_order, load_waiting
from dosewright.store.people import load_home_names, load_timetable
from dosewright.store.pharmacy import load_pharmacy
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.directions import say_directions, say_reading
from dosewright.web.findings import with_names
from dosewright.web.order_lines import say_span
from dosewright.web.page import Strip, show, strip_of
from dosewright.web.regimen_strip import RegimenStrip, draw_strip
from dosewright.web.request import BenchRequest, new_token, occasion, today
from dosewright.web.unused import UnusedLine, unused_lines

__all__ = ["ConfirmForm", "Option", "Other", "ReadingLine", "ReadingScreen", "ReadingsScreen", "confirm", "reading", "readings", "reject"]


class ConfirmForm(forms.Form):
    """What the pharmacist says: which reading, instead of or beside which order, from when; or the directions written anew, and why."""

    choice = forms.IntegerField(required=False, min_value=0)
    relation = forms.CharField(required=False, max_length=200)
    since = forms.DateField(label="In force from", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    restated = forms.CharField(label="The directions, written anew", required=False, max_length=500)
    reason = forms.CharField(label="Why", required=False, max_length=1000)


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """One order that waits: the id, whose, for what, as received, and what was made of it."""

    order: str
    person: str
    medicine: str
    text: str
    made: str


@dataclass(frozen=True, slots=True)
class ReadingsScreen:
    """All that wait, by person; and what came in files and could not be used, in order of arrival."""

    lines: tuple[ReadingLine, ...]
    unused: tuple[UnusedLine, ...]


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that the words may mean: in a sentence, as fourteen days, as structure."""

    number: int
    sentence: str
    strip: RegimenStrip
    structure: str


@dataclass(frozen=True, slots=True)
class Other:
    """Another confirmed order of the person for the same medicine."""

    id: str
    words: str
    span: str


@dataclass(frozen=True, slots=True)
class ReadingScreen:
    """Everything about one order that waits. `settled` is "" while it does. `usable`: one reading at least can be packed as it is."""

    order: str
    person: str
    medicine: str
    text: str
    prescriber: str
    rx_no: str
    file: str
    span: str
    settled: str
    options: tuple[Option, ...]
    questions: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    others: tuple[Other, ...]
    usable: bool
    form: ConfirmForm
    wrong: tuple[Finding, ...]
    token: str


def readings(request: BenchRequest) -> HttpResponse:
    """The list."""
    country = load_pharmacy().country
    lines = tuple(_line(stored, country) for stored in load_waiting())
    return show(request, "orders/readings.html", ReadingsScreen(lines, unused_lines()))


def reading(request: BenchRequest, order: str) -> HttpResponse:
    """One order, with its one decision."""
    return _show(request, load_order(OrderId(order)), ConfirmForm(), ())


def confirm(request: BenchRequest, order: str) -> HttpResponse:
    """What was read counts from now on."""
    stored, form = load_order(OrderId(order)), ConfirmForm(request.POST)
    if not form.is_valid():
        return _show(request, stored, form, (), status=422)
    outcome = confirm_reading(stored.order.id, occasion(request), _confirmation(stored, form.cleaned_data))
    if not outcome.done:
        return _show(request, stored, form, outcome.findings, status=422)
    return _onward(request, stored, outcome)


def reject(request: BenchRequest, order: str) -> HttpResponse:
    """The order is turned down, with a reason."""
    stored, form = load_order(OrderId(order)), ReasonForm()
    findings: tuple[Finding, ...] = ()
    if request.method == "POST":
        form = ReasonForm(request.POST)
        if form.is_valid():
            outcome = reject_order(stored.order.id, occasion(request), form.cleaned_data["reason"])
            if outcome.done:
                messages.success(request, f"Turned down: {stored.medicine.label} for {stored.person.name}.")
                return redirect("readings")
            findings = outcome.findings
    screen = Decision(
        title=f"Turn down {stored.medicine.label}.",
        about=f"Nothing will be packed from this order. As received: “{stored.order.text or 'no text'}”.",
        action=reverse("reject-order", args=[order]),
        button="This order is turned down",
        back=reverse("reading", args=[order]),
        form=form,
        token=new_token(),
        findings=with_names(findings),
    )
    return show(request, "decision.html", screen, strip=_strip(stored), status=422 if request.method == "POST" else 200)


def _line(stored: StoredOrder, country: str) -> ReadingLine:
    made = {"read": "read", "decide": "a question", "refuse": "could not be read"}[stored.status]
    return ReadingLine(stored.order.id, stored.person.name, named(stored.medicine, country), stored.order.text, made)


def _confirmation(stored: StoredOrder, said: dict[str, object]) -> Confirmation:
    relation, since, restated = str(said["relation"] or ""), said["since"], str(said["restated"] or "").strip()
    choice = said["choice"]
    return Confirmation(
        choice=choice if isinstance(choice, int) else None,
        reason=str(said["reason"] or ""),
        since=Moment(since) if since else None,  # type: ignore[arg-type]
        replaces=OrderId(relation.removeprefix("replaces:")) if relation.startswith("replaces:") else None,
        beside=relation == "beside",
        restated=_read_anew(stored, restated) if restated else None,
    )


def _read_anew(stored: StoredOrder, text: str) -> Reading:
    return read(text, Setting("en", load_pharmacy().country, stored.medicine.form, stored.medicine.strength))


def _onward(request: BenchRequest, stored: StoredOrder, outcome: Outcome) -> HttpResponse:
    touched = sum(finding.code == "rework.card-touched" for finding in outcome.findings)
    stale = f" {touched} card{'s are' if touched > 1 else ' is'} out of date now." if touched else ""
    messages.success(request, f"Confirmed: {stored.medicine.label} for {stored.person.name}.{stale}")
    waiting = load_waiting()
    if same := next((other for other in waiting if other.person.id == stored.person.id), None):
        return redirect("reading", same.order.id)
    return redirect("readings") if waiting else redirect("person", stored.person.id)


def _show(request: BenchRequest, stored: StoredOrder, form: ConfirmForm, wrong: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    order, country = stored.order, load_pharmacy().country
    asked, options = stored.reading.questions if stored.reading else (), _options(request, stored)
    screen = ReadingScreen(
        order=order.id,
        person=stored.person.id,
        medicine=named(stored.medicine, country),
        text=order.text,
        prescriber=order.prescriber,
        rx_no=order.rx_no,
        file=stored.file,
        span=say_span(order),
        settled="" if stored.standing == "waiting" else f"{stored.standing} by {stored.settled_by}",
        options=options,
        questions=tuple(Finding(question.code, Severity.DECIDE, {}, dict(question.facts)) for question in asked),
        findings=with_names(stored.findings),
        others=_others(stored),
        usable=any(option.strip.certain for option in options),
        form=form,
        wrong=with_names(wrong),
        token=new_token(),
    )
    return show(request, "orders/reading.html", screen, strip=_strip(stored), status=status)


def _options(request: BenchRequest, stored: StoredOrder) -> tuple[Option, ...]:
    order, timetable = stored.order, load_timetable(stored.person.id)
    first = max(today(request), order.since.day) if order.since else today(request)
    return tuple(
        Option(
            number,
            say_reading(dosages),
            draw_strip(replace(order, dosages=dosages), timetable, first, stored.medicine.unit),
            "\n".join(format_json(format_dosage(dosage)) for dosage in dosages),
        )
        for number, dosages in enumerate(_meanings(stored))
    )


def _meanings(stored: StoredOrder) -> tuple[tuple[Dosage, ...], ...]:
    if stored.reading is None:
        return (stored.order.dosages,) if stored.order.dosages else ()
    if stored.reading.status is ReadingStatus.READ:
        return (stored.reading.dosages,)
    return tuple(choice.dosages for choice in choices_of(stored.reading))


def _others(stored: StoredOrder) -> tuple[Other, ...]:
    same = [order for order in load_confirmed(stored.person.id) if order.medicine == stored.order.medicine and order.id != stored.order.id]
    return tuple(Other(order.id, say_directions(order.dosages, order.text), say_span(order)) for order in same)


def _strip(stored: StoredOrder) -> Strip:
    home = load_home_names().get(stored.person.home, "") if stored.person.home else ""
    return strip_of(stored.person, home)
