"""Near misses: noted with two touches, and looked at over time: how often a check sends a card back, how long the runs between two are."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.note_near_miss import Noted, note_near_miss
from dosewright.actions.say_what_changed import say_what_changed, take_back_what_changed
from dosewright.core.checking.p_chart import Period
from dosewright.core.checking.turn import Turn
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import Cause, Harm, NearMissKind, NoticedAt
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import load_card
from dosewright.store.missing import Missing
from dosewright.store.near_misses import StoredNearMiss, load_near_misses
from dosewright.web.bench_card import load_bench_card
from dosewright.web.decision import Decision
from dosewright.web.near_miss_charts import Charts, near_miss_charts
from dosewright.web.near_miss_words import CAUSES, HARMS, KINDS, NOTICED, ORIGINS, TURNS
from dosewright.web.onward import onward
from dosewright.web.page import NOBODY, Strip, show
from dosewright.web.request import BenchRequest, new_token, occasion, today

__all__ = ["ChangeForm", "MissLine", "NearMissForm", "NearMissScreen", "NoteScreen", "near_misses", "note", "say", "take_back"]

_LISTED = 50
_CHART = "near misses"
_AT_STAGE = {
    Stage.FILLED: NoticedAt.CHECK,
    Stage.CHECKED: NoticedAt.RELEASE,
    Stage.SEALED: NoticedAt.RELEASE,
    Stage.RELEASED: NoticedAt.DELIVERY,
}
_BY_ROLE = {Role.CHECKER: NoticedAt.CHECK, Role.PHARMACIST: NoticedAt.RELEASE, Role.DRIVER: NoticedAt.DELIVERY}


def _choices(words: Mapping[Any, str]) -> list[tuple[str, str]]:
    """A field's choices, from a table of words."""
    return [(str(one.value), said) for one, said in words.items()]


class NearMissForm(forms.Form):
    """Only the kind must be said; where it was noticed is proposed."""

    kind = forms.ChoiceField(label="What was caught", choices=_choices(KINDS), widget=forms.RadioSelect)
    noticed = forms.ChoiceField(label="Noticed", choices=_choices(NOTICED))
    card = forms.CharField(label="Card number, if there is a card", max_length=60, required=False)
    reason = forms.CharField(label="In a few words", max_length=1000, required=False, widget=forms.Textarea({"rows": 2}))
    cause = forms.ChoiceField(label="What made it easy to happen", choices=_choices(CAUSES), required=False)
    harm = forms.ChoiceField(label="What it could have done", choices=_choices(HARMS), required=False)
    named = forms.ChoiceField(
        label="Your name beside it", choices=[("", "no"), ("yes", "yes, whoever wants to know more may ask me")], required=False
    )


class ChangeForm(forms.Form):
    """What changed, when, and what follows."""

    day = forms.DateField(label="From which day", widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    text = forms.CharField(label="What changed", help_text="another supplier, a new bench, somebody being trained", max_length=200)
    turn = forms.ChoiceField(label="What follows for the limits", choices=_choices(TURNS))


@dataclass(frozen=True, slots=True)
class NoteScreen:
    """`more`: whether the fields that may be left alone are open."""

    form: NearMissForm
    findings: tuple[Finding, ...]
    more: bool
    back: str
    token: str


@dataclass(frozen=True, slots=True)
class MissLine:
    """One near miss in words. `found_by` is "" where no name is to stand there."""

    at: datetime
    card: str
    kind: str
    noticed: str
    origin: str
    note: str
    cause: str
    harm: str
    found_by: str


@dataclass(frozen=True, slots=True)
class NearMissScreen:
    """`kinds`: the choices of the filter, with the one chosen."""

    charts: Charts
    many: int
    lines: tuple[MissLine, ...]
    kinds: tuple[tuple[str, str], ...]
    kind: str
    by: str
    may_note: bool
    may_say: bool
    token: str


def note(request: BenchRequest) -> HttpResponse:
    """The form; with a card in the address, about that card."""
    number = "".join(request.GET.get("card", "").split())[:60]
    form = NearMissForm(request.POST or None, initial={"card": number, "noticed": _noticed(number, request.actor.role).value})
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        card = "".join(said["card"].split())
        words = (said["reason"], Cause(said["cause"]), Harm(said["harm"]))
        noted = Noted(NearMissKind(said["kind"]), NoticedAt(said["noticed"]), *words, named=bool(said["named"]))
        outcome = note_near_miss(card, occasion(request), noted)
        if outcome.done:
            messages.success(request, "It is noted. Thank you: what is noticed can be mended.")
            return redirect(_after(request.actor.role, card))
        findings = outcome.findings
    screen = NoteScreen(form, findings, bool(findings or (form.is_bound and form.errors)), _after(request.actor.role, number), new_token())
    return show(request, "near_misses/note.html", screen, strip=_strip(number), status=422 if request.method == "POST" else 200)


def _noticed(number: str, role: Role) -> NoticedAt:
    """Where it was most likely noticed: by the card's stage, else by whose work it is."""
    try:
        stage = load_card(CardNumber(number)).state.stage if number else None
    except Missing:
        stage = None
    return _AT_STAGE.get(stage, NoticedAt.FILLING) if stage else _BY_ROLE.get(role, NoticedAt.FILLING)


def _strip(number: str) -> Strip:
    try:
        return load_bench_card(CardNumber(number)).strip if number else NOBODY
    except Missing:
        return NOBODY


def _after(role: Role, card: str) -> str:
    """Back to the card, or to the list; for who sees neither, to theirs."""
    return onward(role, card) if card or role not in RIGHTS[Ability.LOOK] else reverse("near-misses")


def near_misses(request: BenchRequest) -> HttpResponse:
    """The charts, and the latest of them."""
    kind, by = request.GET.get("kind", ""), request.GET.get("by", "")
    chosen = NearMissKind(kind) if kind in {one.value for one in NearMissKind} else None
    period = Period.MONTH if by == Period.MONTH.value else Period.WEEK
    found = [one for one in load_near_misses() if chosen is None or one.kind is chosen]
    role = request.actor.role
    screen = NearMissScreen(
        charts=near_miss_charts(found, period, chosen, today(request)),
        many=len(found),
        lines=tuple(_lines(found[:_LISTED])),
        kinds=(("", "every kind"), *((one.value, words) for one, words in KINDS.items())),
        kind=chosen.value if chosen else "",
        by=period.value,
        may_note=role in RIGHTS[Ability.NOTE_NEAR_MISS],
        may_say=role in RIGHTS[Ability.SAY_WHAT_CHANGED],
        token=new_token(),
    )
    return show(request, "near_misses/list.html", screen)


def _lines(found: Sequence[StoredNearMiss]) -> Iterable[MissLine]:
    for one in found:
        cause = CAUSES[one.cause] if one.cause is not Cause.NOT_KNOWN else ""
        harm = HARMS[one.harm] if one.harm is not Harm.NOT_KNOWN else ""
        name = one.found_by if one.origin.value == "person" else ""
        yield MissLine(one.at, one.card, KINDS[one.kind], NOTICED[one.noticed], ORIGINS[one.origin], one.note, cause, harm, name)


def say(request: BenchRequest) -> HttpResponse:
    """Something changed on a day."""
    form = ChangeForm(request.POST or None, initial={"day": today(request)})
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        day: date = said["day"]
        outcome = say_what_changed(_CHART, occasion(request), day, said["text"], Turn(said["turn"]))
        if outcome.done:
            messages.success(request, "It stands beside the points now.")
            return redirect("near-misses")
        findings = outcome.findings
    ask = Decision(
        title="What changed here?",
        about="Whoever looks at the charts in a year wants to know why a line moved.",
        action=reverse("say-what-changed"),
        button="It stands beside the points",
        back=reverse("near-misses"),
        form=form,
        token=new_token(),
        findings=findings,
        back_words="Back to the charts",
    )
    return show(request, "decision.html", ask, status=422 if request.method == "POST" else 200)


def take_back(request: BenchRequest, note: int) -> HttpResponse:
    """A note stands there no more."""
    outcome = take_back_what_changed(_CHART, occasion(request), note)
    messages.success(request, "It stands there no more.") if outcome.done else messages.warning(request, "It was taken back before.")
    return redirect("near-misses")
