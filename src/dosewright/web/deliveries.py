"""Deliveries: cards that may leave, and cards on their way, door by door. Whose and how many, and nothing of what is in them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from django.http import HttpResponse
from django.urls import reverse

from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.units.ids import CardNumber
from dosewright.store.held_cards import load_cards_with_recalled
from dosewright.store.outside import CardOutside, load_cards_outside
from dosewright.web.page import show
from dosewright.web.request import BenchRequest
from dosewright.web.wording import say_roles

__all__ = ["DeliveryScreen", "Door", "ParcelLine", "deliveries"]


@dataclass(frozen=True, slots=True)
class ParcelLine:
    """One card: its number, whose it is, and the one thing to do with it (`url` "" where whoever looks may not).
    `recalled`: it is on its way with units of a recalled lot."""

    number: str
    name: str
    room: str
    words: str
    url: str
    recalled: bool


@dataclass(frozen=True, slots=True)
class Door:
    """A home, or the address of somebody at home, with its cards."""

    where: str
    lines: tuple[ParcelLine, ...]


@dataclass(frozen=True, slots=True)
class DeliveryScreen:
    """`leave`: what may leave the pharmacy now; `way`: what was taken along and not received yet. `held`: out of date, so it stays.
    `recalled`: with units of a recalled lot, so it stays, and `whose` matter it is; on the way each such card says so."""

    leave: tuple[Door, ...]
    way: tuple[Door, ...]
    to_leave: int
    on_way: int
    held: int
    recalled: tuple[Door, ...]
    whose: str


def deliveries(request: BenchRequest) -> HttpResponse:
    """Both lists."""
    ready, out = load_cards_outside((Stage.RELEASED,)), load_cards_outside((Stage.HANDED_OVER,))
    lots = load_cards_with_recalled()
    fresh = [one for one in ready if not one.out_of_date]
    free, recalled = [one for one in fresh if one.number not in lots], [one for one in fresh if one.number in lots]
    able = RIGHTS[Ability.WITHDRAW_CARD]
    receives = request.actor.role in RIGHTS[Ability.RECEIVE_CARD]
    screen = DeliveryScreen(
        leave=tuple(_doors(free, "Hand over card", "hand-over")),
        way=tuple(_doors(out, "Has come: card" if receives else "", "receive-card", lots)),
        to_leave=len(free),
        on_way=len(out),
        held=len(ready) - len(fresh),
        recalled=tuple(_doors(recalled, "Take out of use card" if request.actor.role in able else "", "withdraw")),
        whose=say_roles(able),
    )
    return show(request, "home/deliveries.html", screen)


def _doors(cards: Iterable[CardOutside], words: str, name: str, recalled: frozenset[CardNumber] = frozenset()) -> Iterator[Door]:
    for where, group in groupby(cards, key=lambda one: one.home or ", ".join(filter(None, (one.person.name, one.person.address)))):
        yield Door(where, tuple(_parcel(one, words, name, recalled=one.number in recalled) for one in group))


def _parcel(one: CardOutside, words: str, name: str, *, recalled: bool) -> ParcelLine:
    said = f"{words} {format_card_number(one.number)}" if words else ""
    return ParcelLine(one.number, one.person.name, one.person.room, said, reverse(name, args=[one.number]) if words else "", recalled)
