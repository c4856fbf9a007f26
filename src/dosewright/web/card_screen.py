"""A card's own screen: what stands, what is next, everything that ever happened to it in order, and the paper that was printed."""

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpResponse
from django.urls import reverse

from dosewright.core.checking.recalled import check_recalled
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import load_entries
from dosewright.store.papers import load_papers
from dosewright.store.stock import load_recalled_lots
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.card_map import CardMap
from dosewright.web.happened import Happened, happened
from dosewright.web.next_step import Step, next_step
from dosewright.web.page import show
from dosewright.web.paper import TITLES
from dosewright.web.request import BenchRequest

__all__ = ["CardScreen", "PrintedLine", "card"]

_HERE = frozenset({Stage.PLANNED, Stage.PRINTED, Stage.FILLING, Stage.FILLED, Stage.CHECKED, Stage.SEALED, Stage.RELEASED})


@dataclass(frozen=True, slots=True)
class PrintedLine:
    """One document printed for the card's set."""

    title: str
    copy: int
    at: datetime
    sha256: str


@dataclass(frozen=True, slots=True)
class CardScreen:
    """`others` are further things that the person signed in may do to the card now."""

    number: str
    stage: Stage
    out_of_date: bool
    step: Step | None
    mine: bool
    others: tuple[tuple[str, str], ...]
    happened: tuple[Happened, ...]
    printed: tuple[PrintedLine, ...]
    map: CardMap
    set_id: int


def card(request: BenchRequest, number: str) -> HttpResponse:
    """Everything about one card."""
    found = load_bench_card(CardNumber(number))
    state, set_id = found.stored.state, found.stored.set_id
    step = next_step(found.stored.number, set_id, state.stage, out_of_date=state.out_of_date, recalled=_recalled(found))
    screen = CardScreen(
        number=found.stored.number,
        stage=state.stage,
        out_of_date=state.out_of_date,
        step=step,
        mine=bool(step and step.may(request.actor.role)),
        others=_others(found, request),
        happened=tuple(happened(entry, found) for entry in load_entries("card", number)),
        printed=tuple(PrintedLine(TITLES[one.kind], one.copy, one.made_at, one.sha256) for one in load_papers(set_id)),
        map=found.contents(),
        set_id=set_id,
    )
    return show(request, "card/screen.html", screen, strip=found.strip)


def _recalled(found: BenchCard) -> bool:
    return bool(check_recalled(found.stored.filled, load_recalled_lots()))


def _others(found: BenchCard, request: BenchRequest) -> tuple[tuple[str, str], ...]:
    stage, number, role = found.stored.state.stage, found.stored.number, request.actor.role
    said: list[tuple[str, str]] = []
    if stage in {Stage.FILLED, Stage.CHECKED, Stage.SEALED} and role in RIGHTS[Ability.SEND_BACK_CARD]:
        said.append(("Send it back", reverse("send-back", args=[number])))
    if stage is Stage.FILLING and role in RIGHTS[Ability.TAKE_OUT_MEDICINE]:
        said.append(("Take something out", reverse("take-out", args=[number])))
    if stage in _HERE and role in RIGHTS[Ability.WITHDRAW_CARD]:
        said.append(("Take it out of use", reverse("withdraw", args=[number])))
    if stage in {Stage.RETURNED, Stage.WITHDRAWN} and role in RIGHTS[Ability.WASTE_UNITS]:
        said.append(("Destroy what is in it", reverse("destroy", args=[number])))
    said.append(("Everything about it", reverse("card-history", args=[number])))
    if role in RIGHTS[Ability.NOTE_NEAR_MISS]:
        said.append(("Note a near miss", f"{reverse('note-near-miss')}?card={number}"))
    return tuple(said)
