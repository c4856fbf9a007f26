"""A home's own screens: its people, the cards that came or are on their way, and what is in one of them. Nothing of any other home."""

from dataclasses import dataclass
from datetime import date

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.receive_card import receive_card
from dosewright.core.custody.event import Deed, Role
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.stage import Stage
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.units.dosing_time import DosingTime
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, HomeId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.calendar import wall_moment
from dosewright.store.orders import load_orders_of
from dosewright.store.outside import CardOutside, load_cards_outside
from dosewright.store.people import load_home_names, load_people, load_person, load_timetable
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.web.bench_card import load_bench_card
from dosewright.web.card_map import CardMap
from dosewright.web.decision import Decision
from dosewright.web.findings import with_names
from dosewright.web.order_lines import OrderLine, order_line
from dosewright.web.page import show, strip_of
from dosewright.web.request import BenchRequest, new_token, occasion

__all__ = ["CardAtHome", "HomeCard", "HomePerson", "HomeScreen", "ResidentLine", "home", "home_card", "home_person", "receive"]

_COMING = (Stage.RELEASED, Stage.HANDED_OVER)
_THERE = (Stage.RECEIVED, Stage.IN_USE)
_WORDS = {
    Stage.RELEASED: "ready at the pharmacy",
    Stage.HANDED_OVER: "on its way",
    Stage.RECEIVED: "here",
    Stage.IN_USE: "in use",
}


@dataclass(frozen=True, slots=True)
class CardAtHome:
    """A card as a home sees it: where it is, its days, and whether it is for the home to say that it came."""

    number: str
    stands: str
    first: date
    last: date
    to_receive: bool
    out_of_date: bool


@dataclass(frozen=True, slots=True)
class ResidentLine:
    """One person of the home with their cards, the earliest first."""

    id: str
    name: str
    born: date | None
    room: str
    cards: tuple[CardAtHome, ...]


@dataclass(frozen=True, slots=True)
class HomeScreen:
    """`receive`: the first card that is on its way, to be received next."""

    name: str
    people: tuple[ResidentLine, ...]
    coming: int
    receive: CardAtHome | None


@dataclass(frozen=True, slots=True)
class HomePerson:
    """One person: what they take now, when, and their cards."""

    name: str
    orders: tuple[OrderLine, ...]
    times: tuple[DosingTime, ...]
    cards: tuple[CardAtHome, ...]


@dataclass(frozen=True, slots=True)
class HomeCard:
    """One card: where it is, what lies in each cavity by its plan."""

    card: CardAtHome
    map: CardMap


def home(request: BenchRequest) -> HttpResponse:
    """Everybody who lives there, and what came for them."""
    own = _own_home(request)
    cards = load_cards_outside((*_COMING, *_THERE), own)
    lines = tuple(_resident(person, cards) for person in load_people(own))
    coming = [one for line in lines for one in line.cards if one.to_receive]
    screen = HomeScreen(load_home_names().get(own, own), lines, len(coming), next(iter(coming), None))
    return show(request, "home/list.html", screen)


def home_person(request: BenchRequest, person: str) -> HttpResponse:
    """Orders in force in plain words; cards."""
    someone, profile = load_person(PersonId(person)), load_rules(load_pharmacy().rules).profile
    now = wall_moment(request.clock.now())
    orders = tuple(
        order_line(one, profile)
        for one in load_orders_of(someone.id)
        if one.standing == "confirmed" and (one.order.until is None or now < one.order.until)
    )
    line = _resident(someone, load_cards_outside((*_COMING, *_THERE), _own_home(request)))
    screen = HomePerson(someone.name, orders, load_timetable(someone.id).slots, line.cards)
    return show(request, "home/person.html", screen, strip=strip_of(someone, load_home_names().get(_own_home(request), "")))


def home_card(request: BenchRequest, number: str) -> HttpResponse:
    """What is to lie in the card, and where it is. A card that has not left the pharmacy's bench is the pharmacy's matter."""
    found = load_bench_card(CardNumber(number))
    state, card = found.stored.state, found.stored.card
    stands = _WORDS.get(state.stage, state.stage.value)
    to_receive = not check_follows(state, Deed.RECEIVED)
    line = CardAtHome(found.stored.number, stands, card.first, card.last, to_receive, state.out_of_date)
    return show(request, "home/card.html", HomeCard(line, found.contents()), strip=found.strip)


def receive(request: BenchRequest, number: str) -> HttpResponse:
    """The card has come. A carer does it for their own home, a driver for the door they stand at."""
    card = load_bench_card(CardNumber(number))
    onward = reverse("home") if request.actor.role is Role.CARER else reverse("deliveries")
    findings: tuple[Finding, ...] = check_follows(card.stored.state, Deed.RECEIVED)
    if request.method == "POST":
        outcome = receive_card(card.stored.number, occasion(request))
        if outcome.done:
            messages.success(request, f"Card {format_card_number(card.stored.number)} of {card.stored.person.name} has come.")
            return redirect(onward)
        findings = outcome.findings
    about = f"Compare name and birth date on the card with {card.stored.person.name}. Look whether its seals are whole."
    place, button = reverse("receive-card", args=[number]), "" if findings else "The card has come"
    ask = Decision("Has this card come?", about, place, button, onward, forms.Form(), new_token(), with_names(findings))
    return show(request, "decision.html", ask, strip=card.strip, status=422 if request.method == "POST" else 200)


def _own_home(request: BenchRequest) -> HomeId:
    """Whoever has the ability has a home: the database says so. Raises ValueError for an account without one."""
    if request.actor.home is None:
        raise ValueError(f"account {request.actor.id} looks at a home and has none")
    return request.actor.home


def _resident(person: Person, cards: tuple[CardOutside, ...]) -> ResidentLine:
    mine = tuple(_at_home(one) for one in cards if one.person.id == person.id)
    return ResidentLine(person.id, person.name, person.born, person.room, mine)


def _at_home(one: CardOutside) -> CardAtHome:
    return CardAtHome(one.number, _WORDS[one.stage], one.first, one.last, one.stage is Stage.HANDED_OVER, one.out_of_date)
