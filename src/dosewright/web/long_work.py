"""Long work on screen: how far it has come, live; cancel it; and what came of it, part by part."""

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.begin_work import cancel_work
from dosewright.actions.outcome import Outcome
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId
from dosewright.store.cards import load_set
from dosewright.store.long_work import LongWork, WorkStep, load_steps, load_work
from dosewright.store.people import load_person
from dosewright.store.value_json import parse_value
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.planning import show_results
from dosewright.web.request import BenchRequest, local, new_token, occasion

__all__ = ["LongWorkScreen", "PrintedSet", "cancel", "long_work", "progress"]

_TITLES = {"plan": ("Planning", "people"), "print": ("Drawing the paper", "sets")}


@dataclass(frozen=True, slots=True)
class PrintedSet:
    """One set of a printing: whose, and why its paper was not kept, nothing where it was."""

    set_id: int
    name: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class LongWorkScreen:
    """`going`: more is to come. `printed` and `held` are filled in once it is over. `may`: whoever looks may cancel it."""

    id: int
    title: str
    what: str
    done: int
    of: int
    going: bool
    waiting: bool
    stopped: bool
    ending: bool
    by: str
    at: datetime
    may: bool
    token: str
    printed: tuple[PrintedSet, ...] = ()
    held: tuple[PrintedSet, ...] = ()


def long_work(request: BenchRequest, work: int) -> HttpResponse:
    """The page; of a planning that is over, who has a set and who needs somebody."""
    found = load_work(work)
    if found.over and found.kind == "plan":
        return _planned(request, found)
    printed = tuple(map(_printed, load_steps(work))) if found.over else ()
    return show(request, "work/long.html", _screen(request, found, tuple(one for one in printed if one)))


def progress(request: BenchRequest, work: int) -> HttpResponse:
    """The part of the page that moves, asked for again and again while it moves: no touch, so that a bench left alone locks."""
    found = load_work(work)
    if found.over:
        return HttpResponse(headers={"HX-Refresh": "true"})
    return show(request, "work/_progress.html", _screen(request, found, ()))


def cancel(request: BenchRequest, work: int) -> HttpResponse:
    """No further part is begun."""
    cancel_work(work, occasion(request))
    return redirect("long-work", work)


def _screen(request: BenchRequest, found: LongWork, printed: tuple[PrintedSet, ...]) -> LongWorkScreen:
    title, what = _TITLES[found.kind]
    return LongWorkScreen(
        id=found.id,
        title=title,
        what=what,
        done=found.done,
        of=found.of,
        going=not found.over,
        waiting=found.state == "waiting",
        stopped=found.state == "cancelled",
        ending=found.cancel and not found.over,
        by=found.by_name,
        at=local(found.made_at),
        may=request.actor.role in RIGHTS[Ability.PLAN_SET],
        token=new_token(),
        printed=tuple(one for one in printed if not one.findings),
        held=tuple(one for one in printed if one.findings),
    )


def _planned(request: BenchRequest, found: LongWork) -> HttpResponse:
    tried = [step for step in load_steps(found.id) if step.outcome]
    outcomes = [(load_person(PersonId(step.subject)), parse_value(Outcome, step.outcome)) for step in tried]
    return show_results(request, parse_value(PlanAsk, found.asked), outcomes, left=found.of - len(tried))


def _printed(step: WorkStep) -> PrintedSet | None:
    if not step.outcome:
        return None
    outcome = parse_value(Outcome, step.outcome)
    findings = () if outcome.done else with_names(outcome.findings)
    return PrintedSet(int(step.subject), load_set(int(step.subject)).person.name, findings)
