"""Plan the next cards: whose, from when, for how many days; and what must be answered before a plan is kept."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.begin_work import begin_planning
from dosewright.actions.outcome import Outcome
from dosewright.actions.plan_set import plan_set
from dosewright.core.custody.answering import finding_key
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.packing.request import Answer
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.people import load_home_names, load_people, load_person
from dosewright.store.work import load_unplanned, load_waiting_orders, planned_until
from dosewright.web.findings import with_names
from dosewright.web.page import show, strip_of
from dosewright.web.people import by_home
from dosewright.web.request import BenchRequest, new_token, occasion, today

__all__ = [
    "AskScreen",
    "Candidate",
    "CandidatesOfAHome",
    "Open",
    "PlanForm",
    "Planned",
    "Question",
    "ResultScreen",
    "plan",
    "plan_person",
    "show_results",
]

LONGEST = 56  # days: eight weeks, the longest that any shipped profile lets a card keep
_ASKS_WHERE = "suitability.confirm"  # answered by where the medicine goes; everything else by a reason why it goes on


class PlanForm(forms.Form):
    """From when, for how many days, for whom."""

    first = forms.DateField(label="First day", widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    days = forms.IntegerField(label="Days", min_value=1, max_value=LONGEST)
    person = forms.MultipleChoiceField(label="Whose", required=True)

    def __init__(self, *args: object, people: Iterable[Person] = (), **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        field = self.fields["person"]
        assert isinstance(field, forms.MultipleChoiceField)  # noqa: S101  declared above
        field.choices = [(person.id, person.name) for person in people]


@dataclass(frozen=True, slots=True)
class Candidate:
    """Somebody who could be planned for: until when cards exist, and what waits."""

    person: Person
    until: date | None
    waiting: int
    chosen: bool


@dataclass(frozen=True, slots=True)
class CandidatesOfAHome:
    """A home's printed name and its people."""

    where: str
    people: tuple[Candidate, ...]


@dataclass(frozen=True, slots=True)
class AskScreen:
    """The form."""

    form: PlanForm
    groups: tuple[CandidatesOfAHome, ...]
    token: str


@dataclass(frozen=True, slots=True)
class Question:
    """A finding that asks: `key` names it in the form; `where` asks for card or alongside beside the reason, by which rule."""

    key: str
    finding: Finding
    where: bool
    rule: str
    dated: str
    order: str


@dataclass(frozen=True, slots=True)
class Open:
    """Somebody whose plan was not kept, and why. `questions` may be answered by a pharmacist, `stops` must be mended first.

    `shorter`: so many days could be planned instead; 0 where none, or where that is not what stands in the way.
    """

    person: Person
    stops: tuple[Finding, ...]
    questions: tuple[Question, ...]
    shorter: int


@dataclass(frozen=True, slots=True)
class Planned:
    """Somebody whose set is kept."""

    person: Person
    set_id: int


@dataclass(frozen=True, slots=True)
class ResultScreen:
    """What became of the plan: who has a set now, who needs somebody, and how many were not tried because it was stopped."""

    first: date
    days: int
    planned: tuple[Planned, ...]
    open: tuple[Open, ...]
    left: int
    may_answer: bool
    token: str


def plan(request: BenchRequest) -> HttpResponse:
    """Ask, then plan each of them."""
    people = load_people()
    if request.method != "POST":
        first = _next_monday(today(request))
        chosen = {request.GET["person"]} if "person" in request.GET else _due(people, first, today(request))
        return _ask(request, PlanForm(initial={"first": _asked_first(request, first), "days": _asked_days(request)}, people=people), people,
                    chosen, 200)  # fmt: skip
    form = PlanForm(request.POST, people=people)
    if not form.is_valid():
        return _ask(request, form, people, set(request.POST.getlist("person")), 422)
    asked = PlanAsk(form.cleaned_data["first"], form.cleaned_data["days"])
    chosen_people = [person for person in people if person.id in form.cleaned_data["person"]]
    if len(chosen_people) > 1:
        return _begin(request, chosen_people, asked)
    outcomes = [(person, plan_set(person.id, occasion(request), asked)) for person in chosen_people]
    if outcomes[0][1].done:
        return redirect("set", int(outcomes[0][1].made[0]))
    return show_results(request, asked, outcomes)


def _begin(request: BenchRequest, chosen: list[Person], asked: PlanAsk) -> HttpResponse:
    """More than one person is work for the task runner: the page shows how far it has come."""
    name = f"{len(chosen)} people, {asked.days} days from {asked.first}"
    outcome = begin_planning(name, occasion(request), [person.id for person in chosen], asked)
    if outcome.done:
        return redirect("long-work", int(outcome.made[0]))
    return show_results(request, asked, [(person, outcome) for person in chosen])


def plan_person(request: BenchRequest, person: str) -> HttpResponse:
    """One person's plan once more, with what a pharmacist answered."""
    someone = load_person(PersonId(person))
    form = PlanForm({**request.POST.dict(), "person": [someone.id]}, people=[someone])
    if not form.is_valid():
        return redirect(f"{reverse('plan')}?person={someone.id}")
    asked = _answered(request, PlanAsk(form.cleaned_data["first"], form.cleaned_data["days"]))
    outcome = plan_set(someone.id, occasion(request), asked)
    if outcome.done:
        messages.success(request, f"Planned for {someone.name}.")
        return redirect("set", int(outcome.made[0]))
    return show_results(request, asked, [(someone, outcome)])


def _asked_first(request: BenchRequest, first: date) -> date:
    """The first day that a link proposes, else the one given."""
    try:
        return date.fromisoformat(request.GET.get("first", ""))
    except ValueError:
        return first


def _asked_days(request: BenchRequest) -> int:
    """The days that a link proposes, else four weeks."""
    said = request.GET.get("days", "")
    return int(said) if said.isascii() and said.isdigit() and 1 <= int(said) <= LONGEST else 28


def _due(people: tuple[Person, ...], first: date, day: date) -> set[str]:
    """Who has orders, no card on the first day, and nothing that waits for a pharmacist."""
    until, waiting, unplanned = planned_until(), load_waiting_orders(), {person.id for person in load_unplanned(day)}
    ends = {person.id for person in people if person.id in until and until[person.id] < first}
    return {person for person in ends | unplanned if not waiting.get(person)}


def _next_monday(day: date) -> date:
    return day + timedelta(days=7 - day.weekday())


def _answered(request: BenchRequest, asked: PlanAsk) -> PlanAsk:
    """The reasons typed for each question, and where a medicine goes where that was asked."""
    said, answers = {}, []
    for key in request.POST.getlist("key"):
        reason = request.POST.get(f"reason {key}", "").strip()
        choice = request.POST.get(f"where {key}", "")
        about, dated, order = (request.POST.get(f"{name} {key}", "") for name in ("rule", "dated", "order"))
        if choice in {"card", "alongside"} and reason and about:
            answers.append(Answer(OrderId(order), about, dated, choice, reason))  # type: ignore[arg-type]
        elif reason:
            said[key] = reason
    return PlanAsk(asked.first, asked.days, tuple(answers), said)


def _ask(request: BenchRequest, form: PlanForm, people: tuple[Person, ...], chosen: set[str], status: int) -> HttpResponse:
    until, waiting = planned_until(), load_waiting_orders()
    groups = tuple(
        CandidatesOfAHome(
            group.where, tuple(Candidate(one, until.get(one.id), waiting.get(one.id, 0), one.id in chosen) for one in group.people)
        )
        for group in by_home(people)
    )
    return show(request, "plan/ask.html", AskScreen(form, groups, new_token()), status=status)


def show_results(request: BenchRequest, asked: PlanAsk, outcomes: list[tuple[Person, Outcome]], left: int = 0) -> HttpResponse:
    """What became of a plan, person by person; `left` were not tried, because it was stopped."""
    planned = tuple(Planned(person, int(outcome.made[0])) for person, outcome in outcomes if outcome.done)
    still = tuple(_open(person, outcome) for person, outcome in outcomes if not outcome.done)
    may_answer = request.actor.role in RIGHTS[Ability.ANSWER_FINDING]
    screen = ResultScreen(asked.first, asked.days, planned, still, left, may_answer, new_token())
    only = outcomes[0][0] if len(outcomes) == 1 else None
    homes = load_home_names()
    strip = {"strip": strip_of(only, homes.get(only.home, "") if only.home else "")} if only else {}
    return show(request, "plan/results.html", screen, status=422 if still and request.method == "POST" else 200, **strip)


def _open(person: Person, outcome: Outcome) -> Open:
    stops = tuple(finding for finding in outcome.findings if finding.severity is Severity.STOP)
    asks = [finding for finding in outcome.findings if finding.severity is Severity.DECIDE]
    questions = tuple(_question(ask, shown) for ask, shown in zip(asks, with_names(asks), strict=True))
    return Open(person, with_names(stops), questions, _shorter(stops))


def _shorter(stops: tuple[Finding, ...]) -> int:
    """How many days the set could have, where nothing but how long things keep is in the way."""
    possible = [finding.facts.get("days_possible", finding.facts.get("longest")) for finding in stops]
    days = [found for found in possible if isinstance(found, int)]
    return min(days) if days and len(days) == len(stops) else 0


def _question(ask: Finding, shown: Finding) -> Question:
    rule, dated, order = (str(facts.get(name, "")) for facts, name in ((ask.facts, "rule"), (ask.facts, "dated"), (ask.where, "order")))
    return Question(finding_key(ask), shown, ask.code == _ASKS_WHERE, rule, dated, order)
