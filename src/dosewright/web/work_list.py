"""Today's sets: who, what stands where, who has it in hand, what is next, what blocks it and who can unblock it. Found by home, stage, day
and name, a page at a time. And finding a card by its code."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from urllib.parse import urlencode

from django import forms
from django.http import HttpResponse, HttpResponseBadRequest
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.begin_work import begin_printing
from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber, PersonId
from dosewright.core.units.person import Person
from dosewright.store.cards import load_card
from dosewright.store.long_work import LongWork, load_work_lately
from dosewright.store.missing import Missing
from dosewright.store.owings import load_owings_of
from dosewright.store.people import load_home_names
from dosewright.store.work import OpenCard, OpenSet, count_waiting, load_open_sets, load_unplanned, load_waiting_orders
from dosewright.web.next_step import Step, holds_up, next_step, step_ability
from dosewright.web.page import show
from dosewright.web.people import AT_HOME
from dosewright.web.request import BenchRequest, new_token, occasion, today
from dosewright.web.wording import say_roles

__all__ = [
    "Block",
    "FindScreen",
    "Narrow",
    "SetLine",
    "SetsOfAHome",
    "UnplannedLine",
    "WorkList",
    "find",
    "print_sets",
    "work_list",
]

PAGE = 40  # sets: what somebody looks through before they would rather narrow the list


class Narrow(forms.Form):
    """Which sets: of a home, with a card at a stage, due by a day, of somebody, whose work. What makes no sense counts as empty."""

    q = forms.CharField(label="Part of a name", required=False, max_length=100, widget=forms.TextInput({"type": "search"}))
    home = forms.ChoiceField(label="Home", required=False)
    stage = forms.ChoiceField(label="A card is", required=False, choices=[("", "at any stage"), *((one.value, one.value) for one in Stage)])
    by = forms.DateField(label="Due by", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    whose = forms.ChoiceField(
        label="Whose work",
        required=False,
        choices=[("", "everybody’s"), ("role", "what waits for me"), ("own", "what I have in hand"), ("blocked", "what is blocked")],
    )

    def __init__(self, *args: object, homes: Iterable[str], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        field = self.fields["home"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101  declared above
        field.choices = [("", "all"), *((home, home) for home in homes), (AT_HOME, AT_HOME)]


@dataclass(frozen=True, slots=True)
class Block:
    """What keeps a set, whose matter it is, and where that is mended ("" where whoever looks may not)."""

    words: str
    whose: str
    url: str


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
    blocks: tuple[Block, ...]
    claimed: str


@dataclass(frozen=True, slots=True)
class UnplannedLine:
    """Somebody with orders and no card on its way; how many directions keep the plan waiting."""

    person: Person
    where: str
    waiting: int


@dataclass(frozen=True, slots=True)
class SetsOfAHome:
    """Sets that begin on one day in one home, as far as they are on this page. `to_print`: those without paper;
    `batch`: where those at the bench are filled together, "" where that are fewer than two."""

    where: str
    first: date
    lines: tuple[SetLine, ...]
    to_print: tuple[int, ...]
    batch: str


@dataclass(frozen=True, slots=True)
class WorkList:
    """`next` is what the person signed in should take up first: what they have in hand, then what the fewest others may do, then what is
    due first. `sets` and `mine` count all of them; `found` what the list was narrowed to. `before`, `after`: the other pages."""

    sets: int
    mine: int
    found: int
    narrow: Narrow
    narrowed: bool
    next: SetLine | None
    to_confirm: int
    may_plan: bool
    may_print: bool
    may_fill: bool
    going: tuple[LongWork, ...]
    unplanned: tuple[UnplannedLine, ...]
    unplanned_count: int
    groups: tuple[SetsOfAHome, ...]
    page: int
    pages: int
    before: str
    after: str
    token: str


@dataclass(frozen=True, slots=True)
class FindScreen:
    """`missing` is what was scanned where no card has that number."""

    missing: str


def work_list(request: BenchRequest) -> HttpResponse:
    """Everything on its way through the pharmacy."""
    waiting, role, every = load_waiting_orders(), request.actor.role, load_open_sets()
    narrow = Narrow(request.GET, homes=sorted({one.home for one in every if one.home}))
    narrow.is_valid()
    found = [one for one in every if _fits(one, narrow.cleaned_data, request, waiting)]
    page, pages = _page(request, len(found))
    unplanned = () if narrow.has_changed() else tuple(load_unplanned(today(request)))
    first = min((one for one in every if _own(one, role)), key=lambda one: _turn(one, request), default=None)
    screen = WorkList(
        sets=len(every),
        mine=sum(_own(one, role) is not None for one in every),
        found=len(found),
        narrow=narrow,
        narrowed=narrow.has_changed(),
        next=_line(first, waiting, role) if first else None,
        to_confirm=count_waiting() if role in RIGHTS[Ability.CONFIRM_READING] else 0,
        may_plan=role in RIGHTS[Ability.PLAN_SET],
        may_print=role in RIGHTS[Ability.PRINT_SET],
        may_fill=role in RIGHTS[Ability.PLACE_MEDICINE],
        going=tuple(one for one in load_work_lately(request.clock.now()) if not one.over),
        unplanned=tuple(_unplanned(unplanned[:PAGE], waiting)),
        unplanned_count=len(unplanned),
        groups=tuple(_groups(found[(page - 1) * PAGE : page * PAGE], waiting, role)),
        page=page,
        pages=pages,
        before=_at(request, page - 1) if page > 1 else "",
        after=_at(request, page + 1) if page < pages else "",
        token=new_token(),
    )
    return show(request, "work/list.html", screen)


def print_sets(request: BenchRequest) -> HttpResponse:
    """The paper of several sets at one go: work for the task runner."""
    said = request.POST.getlist("set")
    if not said or len(said) > PAGE or not all(one.isascii() and one.isdigit() and len(one) < 10 for one in said):
        return HttpResponseBadRequest("printing needs the sets that it is for")
    outcome = begin_printing(f"{len(said)} sets", occasion(request), [int(one) for one in said])
    return redirect("long-work", int(outcome.made[0])) if outcome.done else redirect("work-list")


def _fits(one: OpenSet, said: dict[str, object], request: BenchRequest, waiting: dict[PersonId, int]) -> bool:
    by, stage, whose = said.get("by"), said.get("stage"), said.get("whose")
    return (
        str(said.get("q") or "").casefold().strip() in one.name.casefold()
        and said.get("home") in (None, "", one.home or AT_HOME)
        and (not stage or any(card.stage.value == stage for card in one.cards))
        and (not isinstance(by, date) or one.first <= by)
        and (whose != "role" or _own(one, request.actor.role) is not None)
        and (whose != "own" or one.claimed_by == request.actor.id)
        and (whose != "blocked" or bool(waiting.get(one.person)) or any(card.out_of_date or _held(card) for card in one.cards))
    )


def _page(request: BenchRequest, found: int) -> tuple[int, int]:
    """Which page of how many; a number that makes no sense is the first or the last."""
    said, pages = request.GET.get("page", ""), max(1, -(-found // PAGE))
    asked = int(said) if said.isascii() and said.isdigit() and len(said) < 7 else 1
    return min(max(asked, 1), pages), pages


def _at(request: BenchRequest, page: int) -> str:
    kept = {name: value for name, value in request.GET.items() if name != "page" and value}
    return f"{reverse('work-list')}?{urlencode(kept | {'page': str(page)})}"


def _own(one: OpenSet, role: Role) -> Ability | None:
    """The ability of the set's next step that the fewest share, among those that the role has."""
    abilities = [step_ability(card.stage, out_of_date=card.out_of_date, recalled=card.recalled) for card in one.cards]
    own = [ability for ability in abilities if ability and role in RIGHTS[ability]]
    return min(own, key=lambda ability: len(RIGHTS[ability]), default=None)


def _turn(one: OpenSet, request: BenchRequest) -> tuple[int, int]:
    """What is in one's own hand comes first, what is in another's last; then the step that the fewest may take."""
    ability = _own(one, request.actor.role)
    hand = 0 if one.claimed_by == request.actor.id else 2 if one.claimed_by else 1
    return hand, len(RIGHTS[ability]) if ability else len(Role)


def _line(one: OpenSet, waiting: dict[PersonId, int], role: Role, owed: int = 0) -> SetLine:
    steps = [next_step(card.number, one.id, card.stage, out_of_date=card.out_of_date, recalled=card.recalled) for card in one.cards]
    still = [step for step in steps if step]
    own = min((step for step in still if step.may(role)), key=lambda step: len(RIGHTS[step.ability]), default=None)
    blocks, step = tuple(_blocks(one, waiting.get(one.person, 0), owed, role)), own or next(iter(still), None)
    return SetLine(one.id, one.name, one.born, one.room, _stands(one.cards), step, own is not None, blocks, one.claimed)


def _stands(cards: Iterable[OpenCard]) -> str:
    """ "2 filled, 1 sealed": in the order of a card's life."""
    stages = sorted((card.stage for card in cards), key=list(Stage).index)
    return ", ".join(f"{len(list(group))} {stage.value}" for stage, group in groupby(stages))


def _blocks(one: OpenSet, waiting: int, owed: int, role: Role) -> Iterator[Block]:
    stale = [card for card in one.cards if card.out_of_date]
    if stale:
        yield _block(f"{len(stale)} out of date", Ability.DECIDE_CARD, role, reverse("out-of-date", args=[stale[0].number]))
    yield from _held_blocks([card for card in one.cards if _held(card)], one.id, role)
    if waiting:
        said = f"{waiting} order{'s' if waiting > 1 else ''} to confirm"
        yield _block(said, Ability.CONFIRM_READING, role, reverse("readings"))
    if owed:
        said = f"{owed} medicine{'s' if owed > 1 else ''} owed"
        yield _block(said, Ability.RECEIVE_STOCK, role, reverse("owings"))


def _held(card: OpenCard) -> bool:
    """A recalled lot keeps it; what is out of date is decided first."""
    return card.recalled and holds_up(card.stage) and not card.out_of_date


def _held_blocks(cards: list[OpenCard], set_id: int, role: Role) -> Iterator[Block]:
    """One for each ability that brings some of them on: who takes units out of a card is not always who takes a card out of use."""
    steps = [next_step(card.number, set_id, card.stage, out_of_date=False, recalled=True) for card in cards]
    for ability in dict.fromkeys(step.ability for step in steps if step):
        mine = [step for step in steps if step and step.ability is ability]
        yield _block(f"{len(mine)} held by a recall", ability, role, mine[0].url)


def _block(words: str, ability: Ability, role: Role, url: str) -> Block:
    return Block(words, say_roles(RIGHTS[ability]), url if role in RIGHTS[ability] else "")


def _unplanned(people: Iterable[Person], waiting: dict[PersonId, int]) -> Iterator[UnplannedLine]:
    homes = load_home_names()
    for person in people:
        yield UnplannedLine(person, homes.get(person.home, "") if person.home else AT_HOME, waiting.get(person.id, 0))


def _groups(found: list[OpenSet], waiting: dict[PersonId, int], role: Role) -> Iterator[SetsOfAHome]:
    owed = load_owings_of(one.id for one in found)
    for (first, where), group in groupby(found, key=lambda one: (one.first, one.home or AT_HOME)):
        sets = list(group)
        bare = tuple(one.id for one in sets if any(card.stage is Stage.PLANNED and not card.out_of_date for card in one.cards))
        lines = tuple(_line(one, waiting, role, owed.get(one.id, 0)) for one in sets)
        yield SetsOfAHome(where, first, lines, bare, _batch(sets))


def _batch(sets: list[OpenSet]) -> str:
    at_bench = [one for one in sets if any(card.stage in {Stage.PRINTED, Stage.FILLING} and not card.out_of_date for card in one.cards)]
    return f"{reverse('batch')}?{urlencode({'batch': f'{sets[0].first}~{sets[0].home_id}'})}" if len(at_bench) > 1 else ""


_CARD_OF = {Role.DRIVER: "hand-over", Role.CARER: "home-card"}  # the page of a card that is scanned, for those who see no history


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
