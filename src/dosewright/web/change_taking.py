"""Taking a change that is about a whole person: a stay in hospital, discharge with another regimen, death, another home. And what goes with
it: withdrawing a change, saying that a card is not found, the pharmacy's own figures."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import time

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.change_rates import change_rates
from dosewright.actions.decide_anew import reopen_change
from dosewright.actions.end_orders import end_orders, find_suspended, resume_orders
from dosewright.actions.look_for_card import say_found, say_not_found
from dosewright.actions.move_home import move_home
from dosewright.actions.outcome import Outcome
from dosewright.actions.withdraw_change import withdraw_change
from dosewright.core.custody.changing import Cause
from dosewright.core.custody.ending import EndAsk
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, HomeId, PersonId
from dosewright.devices.shipped import read_shipped
from dosewright.store.changes import find_open_change, load_change, load_rates_text
from dosewright.store.people import load_home_names, load_person, load_timetable
from dosewright.web.bench_card import load_bench_card
from dosewright.web.decision import Decision, ReasonForm
from dosewright.web.findings import with_names
from dosewright.web.onward import onward
from dosewright.web.page import show, strip_of
from dosewright.web.people import AT_HOME
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["CauseLine", "PersonChange", "RatesScreen", "TakeForm", "look_for", "rates", "reopen", "take", "withdraw"]

_CAUSES = (
    (Cause.SUSPENDED, "In hospital", "all orders are suspended; they can be resumed"),
    (Cause.RESUMED, "Back from hospital, as before", "suspended orders count again, their rhythms run on"),
    (Cause.DISCHARGED, "Discharged with another regimen", "all orders end; the new ones are confirmed as they come"),
    (Cause.MOVED_HOME, "Moved home", "every card is found where it is; another home’s dosing times count"),
    (Cause.DIED, "Died", "all orders end; every card is taken out of use or taken back"),
)


class TakeForm(forms.Form):
    """What happened, from when, where to."""

    cause = forms.ChoiceField(choices=[(cause.value, words) for cause, words, _ in _CAUSES])
    day = forms.DateField()
    time = forms.TimeField()
    home = forms.CharField(required=False, max_length=200)
    room = forms.CharField(required=False, max_length=200)
    reason = forms.CharField(max_length=1000)


@dataclass(frozen=True, slots=True)
class CauseLine:
    """One thing that can have happened, and what follows."""

    value: str
    words: str
    follows: str


@dataclass(frozen=True, slots=True)
class PersonChange:
    """`times` are the person's dosing times, to say from which on; `homes` where they may live, by id and name."""

    person: PersonId
    causes: tuple[CauseLine, ...]
    times: tuple[tuple[str, str], ...]
    homes: tuple[tuple[str, str], ...]
    day: str
    room: str
    typed: str
    wrong: str
    findings: tuple[Finding, ...]
    token: str


def take(request: BenchRequest, person: str) -> HttpResponse:
    """Say what happened, from which dosing time on, and why."""
    known = load_person(PersonId(person))
    form = TakeForm(request.POST or None)
    if request.method != "POST":
        return _ask(request, known.id)
    if not form.is_valid():
        return _ask(request, known.id, wrong="Choose what happened, from which day and dosing time on, and write why.")
    outcome = _take(known.id, request, form)
    if not outcome.done:
        return _ask(request, known.id, findings=outcome.findings)
    found = find_open_change(known.id)
    messages.success(request, "The orders are changed." if found is None else "The orders are changed; its cards wait for a decision.")
    return redirect("change", found.id) if found else redirect("person", known.id)


def _take(person: PersonId, request: BenchRequest, form: TakeForm) -> Outcome:
    said = form.cleaned_data
    cause, at, reason = Cause(said["cause"]), Moment(said["day"], said["time"]), said["reason"]
    if cause is Cause.RESUMED:
        return resume_orders(person, occasion(request), at, reason)
    if cause is Cause.MOVED_HOME:
        return move_home(person, occasion(request), HomeId(said["home"]) if said["home"] else None, said["room"], reason)
    return end_orders(person, occasion(request), EndAsk(at, cause, reason))


def _ask(request: BenchRequest, person: PersonId, *, findings: tuple[Finding, ...] = (), wrong: str = "") -> HttpResponse:
    known, homes = load_person(person), load_home_names()
    causes = [one for one in _CAUSES if one[0] is not Cause.RESUMED or find_suspended(person)]
    screen = PersonChange(
        person=person,
        causes=tuple(CauseLine(cause.value, words, follows) for cause, words, follows in causes),
        times=(
            ("00:00", "the whole day"),
            *((f"{slot.time:%H:%M}", str(slot.name)) for slot in load_timetable(person).slots if slot.time != time(0)),
        ),
        homes=(("", AT_HOME), *((str(home), name) for home, name in homes.items())),
        day=request.POST.get("day", ""),
        room=request.POST.get("room", known.room),
        typed=request.POST.get("reason", "")[:1000],
        wrong=wrong,
        findings=with_names(findings),
        token=new_token(),
    )
    strip = strip_of(known, homes.get(known.home, "") if known.home else "")
    return show(request, "change/take.html", screen, strip=strip, status=422 if findings or wrong else 200)


def withdraw(request: BenchRequest, change: int) -> HttpResponse:
    """The change is taken back."""
    stored = load_change(change)
    about = "The orders ask again what they asked before it. That can be done while nothing was done to any card."
    ask = _decision("Withdraw this change.", about, reverse("withdraw-change", args=[change]), "The change is withdrawn", request)
    ask = replace(ask, back=reverse("change", args=[change]))
    return _decide(request, ask, lambda reason: withdraw_change(change, occasion(request), reason), reverse("change", args=[stored.id]))


def reopen(request: BenchRequest, change: int) -> HttpResponse:
    """It is decided anew."""
    here = reverse("change", args=[load_change(change).id])
    about = "What was begun stays as it is. All cards are laid out again by what lies in them now."
    ask = _decision("Decide about this change anew.", about, reverse("reopen-change", args=[change]), "It waits for a decision", request)
    return _decide(request, replace(ask, back=here), lambda reason: reopen_change(change, occasion(request), reason), here)


def look_for(request: BenchRequest, number: str) -> HttpResponse:
    """A card is not found, or found again."""
    card = load_bench_card(CardNumber(number))
    missing, here = card.stored.state.missing, onward(request.actor.role, card.stored.number)
    title = "The card is found again." if missing else "Nobody finds this card."
    about = "Say where it was." if missing else "Nothing can be done in it until it is found; it stays on the list. Say where you looked."
    button = "It is found" if missing else "It is listed as not found"
    ask = replace(_decision(title, about, reverse("look-for-card", args=[number]), button, request), back=here)
    act = say_found if missing else say_not_found
    return _decide(request, ask, lambda reason: act(card.stored.number, occasion(request), reason), here)


def _decision(title: str, about: str, action: str, button: str, request: BenchRequest) -> Decision:
    return Decision(title, about, action, button, "", ReasonForm(request.POST or None), new_token())


def _decide(request: BenchRequest, ask: Decision, act: Callable[[str], Outcome], then: str) -> HttpResponse:
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and ask.form.is_valid():
        outcome = act(ask.form.cleaned_data["reason"])
        if outcome.done:
            messages.success(request, f"{ask.button}.")
            return redirect(then)
        findings = outcome.findings
    screen = replace(ask, findings=with_names(findings))
    return show(request, "decision.html", screen, status=422 if request.method == "POST" else 200)


@dataclass(frozen=True, slots=True)
class RatesScreen:
    """The figures by which choices are ranked, as a text; `own`: they are the pharmacy's, not those that ship."""

    text: str
    own: bool
    findings: tuple[Finding, ...]
    token: str


def rates(request: BenchRequest) -> HttpResponse:
    """Minutes, error rates, lead times and weights, each with its source."""
    if request.method == "POST":
        text = request.POST.get("text", "")[:40_000].replace("\r\n", "\n")
        outcome = change_rates("pharmacy", occasion(request), text)
        if outcome.done:
            messages.success(request, "These figures count from now on.")
            return redirect("rework-rates")
        return show(request, "change/rates.html", RatesScreen(text, own=True, findings=outcome.findings, token=new_token()), status=422)
    own = load_rates_text()
    return show(
        request,
        "change/rates.html",
        RatesScreen(own or read_shipped("rework", "rates.toml"), own=bool(own), findings=(), token=new_token()),
    )
