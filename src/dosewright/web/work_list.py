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
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import load_card
from dosewright.store.missing import Missing
from dosewright.store.work import OpenCard, OpenSet, load_open_sets, load_waiting_orders
from dosewright.web.next_step import Step, next_step
from dosewright.web.page import show
from dosewright.web.people import AT_HOME
from dosewright.web.request import BenchRequest

__all__ = ["FindScreen", "SetLine", "SetsOfAHome", "WorkList", "find", "work_list"]


@dataclass(frozen=True, slots=True)
class SetLine:
    """One set: the person, what its cards stand at, and the one thing that comes next (`step`, None where nothing does)."""

    id: int
    name: str
    born: date | None
    room: str
    cards: int
    stands: str
    step: Step | None
    mine: bool
    blocked: str


@dataclass(frozen=True, slots=True)
class SetsOfAHome:
    """Sets that begin on one day in one home."""

    where: str
    first: date
    lines: tuple[SetLine, ...]


@dataclass(frozen=True, slots=True)
class WorkList:
    """`next` is the first line that the person signed in can take further."""

    sets: int
    mine: int
    next: SetLine | None
    to_confirm: int
    groups: tuple[SetsOfAHome, ...]


@dataclass(frozen=True, slots=True)
class FindScreen:
    """`missing` is what was scanned where no card has that number."""

    missing: str


def work_list(request: BenchRequest) -> HttpResponse:
    """Everything on its way through the pharmacy."""
    waiting = load_waiting_orders()
    lines = [(one, _line(one, waiting.get(one.person.id, 0), request.actor.role)) for one in load_open_sets()]
    mine = [line for _, line in lines if line.mine]
    may_confirm = request.actor.role in RIGHTS[Ability.CONFIRM_READING]
    to_confirm = sum(waiting.values()) if may_confirm else 0
    return show(request, "work/list.html", WorkList(len(lines), len(mine), next(iter(mine), None), to_confirm, tuple(_groups(lines))))


def _line(one: OpenSet, waiting: int, role: Role) -> SetLine:
    steps = [(card, next_step(card.number, one.id, card.stage, out_of_date=card.out_of_date)) for card in one.cards]
    still = [(card, step) for card, step in steps if step]
    own = [step for _, step in still if step.may(role)]
    step = own[0] if own else (still[0][1] if still else None)
    person = one.person
    return SetLine(
        id=one.id,
        name=person.name,
        born=person.born,
        room=person.room,
        cards=len(one.cards),
        stands=_stands(one.cards),
        step=step,
        mine=bool(own),
        blocked=_blocked(one.cards, waiting),
    )


def _stands(cards: Iterable[OpenCard]) -> str:
    """ "2 filled, 1 sealed": in the order of a card's life."""
    stages = sorted((card.stage for card in cards), key=list(Stage).index)
    return ", ".join(f"{len(list(group))} {stage.value}" for stage, group in groupby(stages))


def _blocked(cards: Iterable[OpenCard], waiting: int) -> str:
    stale = sum(card.out_of_date for card in cards)
    said = [f"{stale} out of date"] if stale else []
    if waiting:
        said.append(f"{waiting} direction{'s' if waiting > 1 else ''} to confirm")
    return ", ".join(said)


def _groups(lines: Iterable[tuple[OpenSet, SetLine]]) -> Iterator[SetsOfAHome]:
    for (first, where), group in groupby(lines, key=lambda pair: (pair[0].first, pair[0].home or AT_HOME)):
        yield SetsOfAHome(where, first, tuple(line for _, line in group))


def find(request: BenchRequest) -> HttpResponse:
    """Where a scanned card goes on; without a scan, the field to scan into."""
    scanned = "".join(request.GET.get("scan", "").split())[:200]
    if not scanned:
        return show(request, "work/find.html", FindScreen(""))
    try:
        return redirect(reverse("card", args=[load_card(CardNumber(scanned)).number]))
    except Missing:
        return show(request, "work/find.html", FindScreen(scanned), status=404)
