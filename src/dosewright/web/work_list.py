"""Today's sets: who, what stands where, what is next, what blocks it and who can unblock it. And finding a card by its code."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber, PersonId
from dosewright.core.units.person import Person
from dosewright.store.cards import load_card
from dosewright.store.missing import Missing
from dosewright.store.people import load_home_names
from dosewright.store.work import OpenCard, OpenSet, count_waiting, load_open_sets, load_unplanned, load_waiting_orders
from dosewright.web.next_step import Step, next_step
from dosewright.web.page import show
from dosewright.web.people import AT_HOME
from dosewright.web.request import BenchRequest, today

__all__ = ["FindScreen", "SetLine", "SetsOfAHome", "UnplannedLine", "WorkList", "find", "work_list"]


@dataclass(frozen=True, slots=True)
class SetLine:
    """One set: the person, what its cards stand at, and the one thing that comes next (`step`, None where nothing does)."""

    id: int
    name: str
    born: date | None
    room: str
    stands: str
    step: Step | None
    mine: bool
    blocked: str


@dataclass(frozen=True, slots=True)
class UnplannedLine:
    """Somebody with orders and no card on its way; how many directions keep the plan waiting."""

    person: Person
    where: str
    waiting: int


@dataclass(frozen=True, slots=True)
class SetsOfAHome:
    """Sets that begin on one day in one home."""

    where: str
    first: date
    lines: tuple[SetLine, ...]


@dataclass(frozen=True, slots=True)
class WorkList:
    """`next` is what the person signed in should take up first: what the fewest others may do, then what is due first."""

    sets: int
    mine: int
    next: SetLine | None
    to_confirm: int
    may_plan: bool
    unplanned: tuple[UnplannedLine, ...]
    groups: tuple[SetsOfAHome, ...]


@dataclass(frozen=True, slots=True)
class FindScreen:
    """`missing` is what was scanned where no card has that number."""

    missing: str


_CARD_OF = {Role.DRIVER: "hand-over", Role.CARER: "home-card"}  # the page of a card that is scanned, for those who see no history


def work_list(request: BenchRequest) -> HttpResponse:
    """Everything on its way through the pharmacy."""
    waiting, role = load_waiting_orders(), request.actor.role
    lines = [(one, _line(one, waiting.get(one.person.id, 0), role)) for one in load_open_sets()]
    mine = [line for _, line in lines if line.mine]
    screen = WorkList(
        sets=len(lines),
        mine=len(mine),
        next=min(mine, key=_hands, default=None),
        to_confirm=count_waiting() if role in RIGHTS[Ability.CONFIRM_READING] else 0,
        may_plan=role in RIGHTS[Ability.PLAN_SET],
        unplanned=tuple(_unplanned(waiting, today(request))),
        groups=tuple(_groups(lines)),
    )
    return show(request, "work/list.html", screen)


def _hands(line: SetLine) -> int:
    """How many roles could take the line's next step."""
    return len(RIGHTS[line.step.ability]) if line.step else len(Role)


def _line(one: OpenSet, waiting: int, role: Role) -> SetLine:
    steps = [next_step(card.number, one.id, card.stage, out_of_date=card.out_of_date) for card in one.cards]
    still = [step for step in steps if step]
    own = min((step for step in still if step.may(role)), key=lambda step: len(RIGHTS[step.ability]), default=None)
    person, step = one.person, own or next(iter(still), None)
    return SetLine(one.id, person.name, person.born, person.room, _stands(one.cards), step, own is not None, _blocked(one.cards, waiting))


def _stands(cards: Iterable[OpenCard]) -> str:
    """ "2 filled, 1 sealed": in the order of a card's life."""
    stages = sorted((card.stage for card in cards), key=list(Stage).index)
    return ", ".join(f"{len(list(group))} {stage.value}" for stage, group in groupby(stages))


def _blocked(cards: Iterable[OpenCard], waiting: int) -> str:
    stale = sum(card.out_of_date for card in cards)
    said = [f"{stale} out of date"] if stale else []
    if waiting:
        said.append(f"{waiting} order{'s' if waiting > 1 else ''} to confirm")
    return ", ".join(said)


def _unplanned(waiting: dict[PersonId, int], day: date) -> Iterator[UnplannedLine]:
    homes = load_home_names()
    for person in load_unplanned(day):
        yield UnplannedLine(person, homes.get(person.home, "") if person.home else AT_HOME, waiting.get(person.id, 0))


def _groups(lines: Iterable[tuple[OpenSet, SetLine]]) -> Iterator[SetsOfAHome]:
    for (first, where), group in groupby(lines, key=lambda pair: (pair[0].first, pair[0].home or AT_HOME)):
        yield SetsOfAHome(where, first, tuple(line for _, line in group))


def find(request: BenchRequest) -> HttpResponse:
    """Where a scanned card goes on; without a scan, the field to scan into."""
    scanned = "".join(request.GET.get("scan", "").split())[:200]
    if not scanned:
        return show(request, "work/find.html", FindScreen(""))
    try:
        number = load_card(CardNumber(scanned)).number
    except Missing:
        return show(request, "work/find.html", FindScreen(scanned), status=404)
    return redirect(reverse(_CARD_OF.get(request.actor.role, "card"), args=[number]))
