"""Readings to confirm: the list of what waits, and one order at a time with its one decision; confirmed, or turned down."""

from dataclasses import dataclass

from django import forms
from django.conf import settings
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.look_around import read_anew, remembered_choice
from dosewright.actions.outcome import Outcome
from dosewright.actions.reject_order import reject_order
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.paper.medicine_words import named
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import OrderId
from dosewright.store.orders import StoredOrder, load_order, load_waiting
from dosewright.store.people import load_home_names
from dosewright.store.pharmacy import load_pharmacy
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.findings import with_names
from dosewright.web.page import Strip, show, strip_of
from dosewright.web.reading_screen import Answered, draw_reading
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.unused import UnusedLine, unused_lines

__all__ = ["AskForm", "ConfirmForm", "ReadingLine", "ReadingsScreen", "confirm", "reading", "readings", "reject"]


class AskForm(forms.Form):
    """What was answered on the way: which meaning, from which day; `ask`: not by what is remembered."""

    choice = forms.IntegerField(required=False, min_value=0)
    since = forms.DateField(required=False)
    ask = forms.BooleanField(required=False)


class ConfirmForm(forms.Form):
    """What the pharmacist says: which reading, by which remembered wording, instead of or beside which order, from when; or the directions
    written anew; why; and whether the wording is to be remembered."""

    choice = forms.IntegerField(required=False, min_value=0)
    wording = forms.IntegerField(required=False, min_value=1)
    relation = forms.CharField(required=False, max_length=340)
    since = forms.DateField(required=False)
    restated = forms.CharField(required=False, max_length=500)
    reason = forms.CharField(required=False, max_length=1000)
    remember = forms.BooleanField(required=False)


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


def readings(request: BenchRequest) -> HttpResponse:
    """The list."""
    country = load_pharmacy().country
    lines = tuple(_line(stored, country) for stored in load_waiting())
    return show(request, "orders/readings.html", ReadingsScreen(lines, unused_lines()))


def reading(request: BenchRequest, order: str) -> HttpResponse:
    """One order, with its one decision."""
    form = AskForm(request.GET)
    said = form.cleaned_data if form.is_valid() else {}
    answered = Answered(choice=said.get("choice"), since=said.get("since"), ask=bool(said.get("ask")))
    return _show(request, load_order(OrderId(order)), answered)


def confirm(request: BenchRequest, order: str) -> HttpResponse:
    """What was read counts from now on."""
    stored, form = load_order(OrderId(order)), ConfirmForm(request.POST)
    if not form.is_valid():
        return _show(request, stored, Answered(), status=422)
    said = form.cleaned_data
    outcome = confirm_reading(stored.order.id, occasion(request), _confirmation(stored, said))
    if not outcome.done:
        gone = any(finding.code == "custody.wording-gone" for finding in outcome.findings)  # then nothing is chosen yet
        again = Answered(
            None if gone else said["choice"],
            ask=gone,
            since=said["since"],
            reason=said["reason"],
            restated=said["restated"],
            wrong=outcome.findings,
        )
        return _show(request, stored, again, status=422)
    _tell(request, stored, outcome)
    return redirect("remember-wording", stored.order.id) if said["remember"] else _onward(stored)


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
    if stored.status == "decide" and remembered_choice(stored) is not None:
        made = "as this pharmacy reads it"
    return ReadingLine(stored.order.id, stored.person.name, named(stored.medicine, country), stored.order.text, made)


def _confirmation(stored: StoredOrder, said: dict[str, object]) -> Confirmation:
    relation, since, restated = str(said["relation"] or ""), said["since"], str(said["restated"] or "").strip()
    choice, wording = said["choice"], said["wording"]
    return Confirmation(
        choice=choice if isinstance(choice, int) else None,
        reason=str(said["reason"] or ""),
        since=Moment(since) if since else None,  # type: ignore[arg-type]
        replaces=OrderId(relation.removeprefix("replaces:")) if relation.startswith("replaces:") else None,
        beside=relation == "beside",
        restated=read_anew(stored, restated) if restated else None,
        wording=wording if isinstance(wording, int) else None,
    )


def _tell(request: BenchRequest, stored: StoredOrder, outcome: Outcome) -> None:
    touched = sum(finding.code == "rework.card-touched" for finding in outcome.findings)
    stale = f" {touched} card{'s are' if touched > 1 else ' is'} out of date now." if touched else ""
    messages.success(request, f"Confirmed: {stored.medicine.label} for {stored.person.name}.{stale}")


def _onward(stored: StoredOrder) -> HttpResponse:
    """To the person's next order that waits, else to the list, else to the person."""
    waiting = load_waiting()
    if same := next((other for other in waiting if other.person.id == stored.person.id), None):
        return redirect("reading", same.order.id)
    return redirect("readings") if waiting else redirect("person", stored.person.id)


def _show(request: BenchRequest, stored: StoredOrder, said: Answered, status: int = 200) -> HttpResponse:
    screen = draw_reading(stored, said, request.clock.now(), settings.BENCH_LANGUAGES, new_token())
    return show(request, "orders/reading.html", screen, strip=_strip(stored), status=status)


def _strip(stored: StoredOrder) -> Strip:
    home = load_home_names().get(stored.person.home, "") if stored.person.home else ""
    return strip_of(stored.person, home)
