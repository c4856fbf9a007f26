"""The work list's rows: every set that has a card on its way through the pharmacy, and what its cards stand at."""

from collections import Counter
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Count, Exists, Max, OuterRef, Q

from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.units.ids import CardNumber, HomeId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.held_cards import load_cards_with_recalled
from dosewright.store.missing import Missing
from dosewright.store.models import Account, CardRow, CardSet, MedicineRow, OrderRow, PersonRow
from dosewright.store.people import person_of
from dosewright.store.questions import Question
from dosewright.store.unused import count_unused, load_waiting_unused

__all__ = [
    "OpenCard",
    "OpenSet",
    "SetInBrief",
    "count_medicines",
    "count_waiting",
    "load_basis",
    "load_batch_cards",
    "load_open_sets",
    "load_sets_of",
    "load_unplanned",
    "load_waiting_orders",
    "planned_until",
    "set_of",
    "username_of",
]

_GONE = frozenset({Stage.HANDED_OVER, Stage.RECEIVED, Stage.IN_USE}) | OVER


@dataclass(frozen=True, slots=True)
class OpenCard:
    """A card as a list shows it. `recalled`: it holds units of a lot that is."""

    number: CardNumber
    position: int
    stage: Stage
    out_of_date: bool
    recalled: bool = False


@dataclass(frozen=True, slots=True)
class OpenSet:
    """One person's set for one cycle. Cards in order of position. `claimed`: the account and printed name of who has it in hand."""

    id: int
    person: PersonId
    name: str
    born: date | None
    room: str
    home: str
    home_id: str
    first: date
    cards: tuple[OpenCard, ...]
    claimed_by: str = ""
    claimed: str = ""


# What a line of the work list needs, and nothing else: a thousand sets are read at one go.
_OF_CARD = ("number", "position", "stage", "out_of_date")
_OF_SET = ("id", "first", "claimed_by_id", "claimed_by__name")
_OF_PERSON = ("id", "name", "born", "room", "home__name", "home_id")
_FIELDS = (*_OF_CARD, *(f"card_set__{name}" for name in _OF_SET), *(f"card_set__person__{name}" for name in _OF_PERSON))


def load_open_sets() -> tuple[OpenSet, ...]:
    """Sets not withdrawn with at least one card still here, by first day, home (people at home last), name. Two queries."""
    rows = CardRow.objects.filter(card_set__withdrawn=False)
    rows = rows.filter(Exists(CardRow.objects.filter(card_set=OuterRef("card_set")).exclude(stage__in=[stage.value for stage in _GONE])))
    groups: dict[int, list[tuple[Any, ...]]] = {}
    for row in rows.order_by("card_set_id", "position").values_list(*_FIELDS):
        groups.setdefault(row[4], []).append(row)
    held = load_cards_with_recalled()
    return tuple(
        sorted((_open_set(group, held) for group in groups.values()), key=lambda one: (one.first, not one.home, one.home, one.name, one.id))
    )


def _open_set(rows: list[tuple[Any, ...]], held: frozenset[CardNumber]) -> OpenSet:
    set_id, first, claimed_by, claimed, person, name, born, room, home, home_id = rows[0][4:]
    cards = tuple(OpenCard(CardNumber(row[0]), row[1], Stage(row[2]), row[3], row[0] in held) for row in rows)
    where = (home or "", home_id or "")
    return OpenSet(set_id, PersonId(person), name, born, room, *where, first, cards, str(claimed_by or ""), claimed or "")


def load_waiting_orders() -> dict[PersonId, int]:
    """How many orders each person waits for: directions that a pharmacist must confirm, and orders that could not be used."""
    waiting = OrderRow.objects.filter(standing="waiting").values("person_id").annotate(many=Count("id"))
    return dict(Counter({PersonId(row["person_id"]): row["many"] for row in waiting}) + Counter(count_unused()))


def count_waiting() -> int:
    """How many orders wait for a pharmacist in all."""
    return OrderRow.objects.filter(standing="waiting").count() + len(load_waiting_unused())


def load_basis(set_id: int) -> str:
    """The fingerprint of the plan that a set comes from; "" where there is no such set."""
    row = _BASIS.one(set_id)
    return str(row[0]) if row else ""


_BASIS = Question(lambda set_id: CardSet.objects.filter(id=set_id).values_list("basis"))


def username_of(account_id: str) -> str:
    """What the account of an actor signs in with; "" where there is none."""
    return Account.objects.filter(pk=account_id).values_list("username", flat=True).first() or ""


def count_medicines() -> int:
    """How many products the catalogue has."""
    return MedicineRow.objects.count()


def planned_until() -> dict[PersonId, date]:
    """The last day on which each person has a card that is not over."""
    over = [stage.value for stage in OVER]
    rows = CardRow.objects.exclude(stage__in=over).values("card_set__person_id").annotate(until=Max("last"))
    return {PersonId(row["card_set__person_id"]): row["until"] for row in rows}


@dataclass(frozen=True, slots=True)
class SetInBrief:
    """A set as a person's page lists it."""

    id: int
    first: date
    days: int
    cards: int
    withdrawn: bool


def load_sets_of(person: PersonId) -> tuple[SetInBrief, ...]:
    """Every set ever made for a person, latest first."""
    rows = CardSet.objects.filter(person_id=person).annotate(many=Count("cards")).order_by("-first", "-id")
    return tuple(SetInBrief(row.pk, row.first, row.days, row.many, row.withdrawn) for row in rows.defer("request", "plan"))


def load_unplanned(today: date) -> tuple[Person, ...]:
    """People with an order that was not rejected and has not ended, and no card on its way or in use, by name."""
    busy = CardRow.objects.exclude(stage__in=[stage.value for stage in OVER]).values("card_set__person_id")
    still = OrderRow.objects.exclude(standing="rejected").filter(Q(ends__isnull=True) | Q(ends__gte=today)).values("person_id")
    rows = PersonRow.objects.filter(id__in=still).exclude(id__in=busy).order_by("name", "id")
    return tuple(person_of(row) for row in rows)


def set_of(number: CardNumber) -> tuple[int, int]:
    """The set that a card belongs to, and how many cards it has. Raises Missing."""
    found = _SET_OF.rows(number)
    if not found:
        raise Missing("card", number)
    return found[0][0], len(found)


_SET_OF = Question(lambda number: CardRow.objects.filter(card_set__cards=number).values_list("card_set_id"))


def load_batch_cards(first: date, home: HomeId | None) -> tuple[CardNumber, ...]:
    """The cards at the bench of all sets that begin on that day in that home (None: of the people at home), by person, set, position."""
    at_bench = [Stage.PRINTED.value, Stage.FILLING.value]
    rows = CardRow.objects.filter(card_set__first=first, card_set__withdrawn=False, card_set__person__home_id=home)
    rows = rows.filter(stage__in=at_bench, out_of_date=False).order_by("card_set__person__name", "card_set_id", "position")
    return tuple(CardNumber(number) for number in rows.values_list("number", flat=True))
