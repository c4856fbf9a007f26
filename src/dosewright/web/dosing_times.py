"""Fewer dosing times for one person: today's as a row of dials beside the proposed, each move with what it relies on, one decision."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.take_up_times import CYCLE, check_open_orders, draw_up_proposal, take_up_times
from dosewright.core.custody.taking_up import TimesAsk, mark_of
from dosewright.core.packing.dosing_times.times_values import Move, Proposal, Stays, TimesProof
from dosewright.core.paper.medicine_words import named
from dosewright.core.units.dosing_time import DosingTime
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.catalogue import load_catalogue
from dosewright.store.people import load_home_names, load_person
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.work import planned_until
from dosewright.web.dates import day_in_full
from dosewright.web.directions import say_directions
from dosewright.web.page import Strip, show, strip_of
from dosewright.web.request import BenchRequest, new_token, occasion, today

__all__ = ["MoveLine", "Place", "StaysLine", "TimesForm", "TimesScreen", "say_cards", "say_times", "times"]


class TimesForm(forms.Form):
    """From which day, what was shown, which orders stay, with whom it was agreed."""

    first = forms.DateField(widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    shown = forms.CharField(max_length=64)
    agreed = forms.CharField(max_length=1000)


@dataclass(frozen=True, slots=True)
class Place:
    """One dosing time of the day: whether somebody takes something then today, and whether they would."""

    time: DosingTime
    today: bool
    proposed: bool


@dataclass(frozen=True, slots=True)
class MoveLine:
    """One order that would move: in words as they would be, from which dosing times to which, and what that relies on."""

    order: str
    medicine: str
    directions: str
    text: str
    leaves: tuple[DosingTime, ...]
    comes: tuple[DosingTime, ...]
    doses: int
    relies_on: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class StaysLine:
    """One order that stays, and why; no reason where it need not move."""

    medicine: str
    times: tuple[DosingTime, ...]
    why: Finding | None


@dataclass(frozen=True, slots=True)
class TimesScreen:
    """`wrong` keeps it from being taken up as things stand; `stay` are orders left where they are because that was asked."""

    person: str
    first: date
    places: tuple[Place, ...]
    today: int
    proposed: int
    title: str
    cards: str
    moves: tuple[MoveLine, ...]
    stays: tuple[StaysLine, ...]
    findings: tuple[Finding, ...]
    wrong: tuple[Finding, ...]
    stay: tuple[str, ...]
    agreed: str
    shown: str
    token: str


def times(request: BenchRequest, person: str) -> HttpResponse:
    """The proposal; and the decision about it."""
    someone = load_person(PersonId(person))
    form = TimesForm(request.POST or None)
    if request.method != "POST":
        return _show(request, someone, TimesAsk(_first_day(request, someone), _stay(request.GET.getlist("stay"))), ())
    if not form.is_valid():
        first = form.cleaned_data.get("first") or _first_day(request, someone)
        asked = TimesAsk(first, _stay(request.POST.getlist("stay")), agreed=request.POST.get("agreed", ""))
        return _show(request, someone, asked, (Finding("custody.no-reason", Severity.STOP),))
    said = form.cleaned_data
    ask = TimesAsk(said["first"], _stay(request.POST.getlist("stay")), said["shown"], said["agreed"])
    outcome = take_up_times(someone.id, occasion(request), ask)
    if not outcome.done:
        return _show(request, someone, ask, outcome.findings)
    touched = sum(finding.code == "rework.card-touched" for finding in outcome.findings)
    stale = f" {touched} card{'s are' if touched > 1 else ' is'} out of date now." if touched else ""
    moved = f"{len(outcome.made)} order{'s' if len(outcome.made) > 1 else ''}"
    messages.success(request, f"From {day_in_full(ask.first)} {moved} at the new times.{stale}")
    return redirect("person", someone.id)


def _stay(orders: Iterable[str]) -> tuple[OrderId, ...]:
    return tuple(OrderId(order) for order in dict.fromkeys(orders))


def _first_day(request: BenchRequest, someone: Person) -> date:
    """The day asked for; else the day after the cards that exist; else next Monday."""
    asked = forms.DateField(required=False)
    try:
        chosen = asked.clean(request.GET.get("first", ""))
    except forms.ValidationError:
        chosen = None
    day, until = today(request), planned_until().get(someone.id)
    after = until + timedelta(days=1) if until and until >= day else day + timedelta(days=7 - day.weekday())
    return chosen or after


def _show(request: BenchRequest, someone: Person, ask: TimesAsk, wrong: tuple[Finding, ...]) -> HttpResponse:
    proposal = draw_up_proposal(someone.id, occasion(request), ask)
    waits = check_open_orders(someone.id, ask)
    words = _Words(proposal)
    screen = TimesScreen(
        person=someone.id,
        first=ask.first,
        places=_places(proposal),
        today=len(proposal.today),
        proposed=len(proposal.proposed),
        title=say_times(proposal.proof, len(proposal.today), moves=bool(proposal.moves)),
        cards=say_cards(proposal.proof),
        moves=tuple(words.move(move) for move in proposal.moves),
        stays=tuple(words.stays(stays) for stays in proposal.stays),
        findings=tuple(finding for finding in proposal.findings if finding.severity is not Severity.NOTE),
        wrong=(*wrong, *(finding for finding in waits if finding not in wrong)),
        stay=ask.stay,
        agreed=ask.agreed,
        shown="" if waits else mark_of(proposal, ask.first),
        token=new_token(),
    )
    return show(request, "people/times.html", screen, strip=_strip(someone), status=422 if request.method == "POST" else 200)


def _places(proposal: Proposal) -> tuple[Place, ...]:
    """Every dosing time of today or the proposal, in order of the clock, so that the two rows lie one under the other."""
    now, then = set(proposal.today), set(proposal.proposed)
    return tuple(Place(slot, slot in now, slot in then) for slot in proposal.timetable.slots if slot in now | then)


class _Words:
    """A proposal's lines in words."""

    def __init__(self, proposal: Proposal) -> None:
        codes = {move.medicine for move in proposal.moves} | {stays.medicine for stays in proposal.stays}
        pharmacy = load_pharmacy()
        self._medicines, self._country = load_catalogue(codes), pharmacy.country
        self._style = load_rules(pharmacy.rules).profile.number_style

    def move(self, move: Move) -> MoveLine:
        """One that moves."""
        pairs = list(zip(move.today, move.proposed, strict=True))
        return MoveLine(
            order=move.order.id,
            medicine=self._name(move.medicine),
            directions=say_directions(move.order.dosages, move.order.text, self._style),
            text=move.order.text,
            leaves=tuple(here for here, there in pairs if here != there),
            comes=tuple(there for here, there in pairs if here != there),
            doses=move.doses,
            relies_on=move.relies_on,
        )

    def stays(self, stays: Stays) -> StaysLine:
        """One that stays."""
        return StaysLine(self._name(stays.medicine), stays.times, stays.why)

    def _name(self, code: MedicineCode) -> str:
        return named(self._medicines[code], self._country)


def say_times(proof: TimesProof, today: int, *, moves: bool) -> str:
    """ "2 dosing times instead of 3, and no fewer will do"."""
    count = f"{proof.times} dosing time{'' if proof.times == 1 else 's'}"
    if not today:
        return "No dose on these days"
    if not proof.optimal:
        return f"{count}; whether {proof.lower_bound} could do is not proved"
    if not moves:
        return f"{count}, as today: no fewer will do"
    return f"{count} instead of {today}, and no fewer will do" if proof.times != today else f"{count} as today, and no rule broken"


def say_cards(proof: TimesProof) -> str:
    """ "1 card instead of 2 in 28 days."."""
    if proof.cards_proposed is None:
        return "Something keeps the next set from being packed; a plan says what."
    cards = f"{proof.cards_proposed} card{'' if proof.cards_proposed == 1 else 's'}"
    if proof.cards_today is None:
        return f"{cards} in {CYCLE} days; as it is today, something keeps the set from being packed."
    return f"{cards} {'as today' if proof.cards_proposed == proof.cards_today else f'instead of {proof.cards_today}'} in {CYCLE} days."


def _strip(someone: Person) -> Strip:
    return strip_of(someone, load_home_names().get(someone.home, "") if someone.home else "")
