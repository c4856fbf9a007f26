"""Sets and cards ⇄ rows. What a card is now comes from its events; the row repeats the stage for lists."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TypeVar

from django.db.models import QuerySet

from dosewright.core.custody.event import CardEvent, Deed, Occasion
from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.custody.state import CardState, after
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, PersonPlan, Plan
from dosewright.core.packing.request import Answer, LabelLines, Places, PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, MedicineCode, PersonId
from dosewright.core.units.person import Person
from dosewright.store.card_states import load_states
from dosewright.store.cards_at_hand import CardAtHand, parse_card
from dosewright.store.ledger import append_entry
from dosewright.store.missing import Missing
from dosewright.store.models import CardRow, CardSet
from dosewright.store.people import PERSON_FIELDS, person_from, person_of
from dosewright.store.pharmacy import load_rules
from dosewright.store.questions import Question
from dosewright.store.value_json import format_value, parse_value

__all__ = [
    "StoredCard",
    "StoredSet",
    "load_card",
    "load_request",
    "load_set",
    "lock_card",
    "lock_cards_by_pharmacy_times",
    "lock_open_cards",
    "lock_set",
    "rewrite_card",
    "rewrite_set",
    "save_event",
    "save_set",
]


@dataclass(frozen=True, slots=True)
class StoredCard(CardAtHand):
    """The same with whose card it is. `position` of `of` in its set; `rules` names the wording that it was planned under."""

    person: Person
    position: int
    of: int
    rules: str


@dataclass(frozen=True, slots=True)
class StoredSet:
    """All cards of one person for one cycle, in order, with the plan they come from."""

    id: int
    person: Person
    plan: Plan
    cards: tuple[StoredCard, ...]
    planned_at: datetime
    planned_by: str
    rules: str
    withdrawn: bool

    @property
    def on_bench(self) -> tuple[StoredCard, ...]:
        """The cards that may be filled now, or are being filled."""
        return tuple(card for card in self.cards if card.on_bench)

    @property
    def mine(self) -> PersonPlan:
        """The plan's part about this person: a set's plan has one."""
        return self.plan.people[0]


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a request says besides the rules, which are kept once for all sets."""

    people: tuple[Person, ...]
    orders: tuple[Order, ...]
    medicines: Mapping[MedicineCode, Medicine]
    first: date
    days: int
    prepared_on: date
    timetable: Timetable
    salt: str
    answers: tuple[Answer, ...]
    expiries: Mapping[MedicineCode, date]
    places: Mapping[PersonId, Places]
    label_lines: LabelLines | None


def save_set(plan: Plan, request: PlanRequest, rules: str, on: Occasion) -> int:
    """Keep a person's plan and its cards, all of them new. The set's id. The events are the caller's to add."""
    (mine,) = plan.people
    row = CardSet.objects.create(
        person_id=mine.person,
        first=plan.first,
        days=plan.days,
        basis=plan.basis,
        rules_id=rules,
        request=format_value(_Asked(**{name: getattr(request, name) for name in _Asked.__slots__})),
        plan=format_value(plan),
        planned_at=on.at,
        planned_by=on.by.name,
    )
    CardRow.objects.bulk_create(
        CardRow(number=card.number, card_set=row, position=position, value=format_value(card), first=card.first, last=card.last)
        for position, card in enumerate(mine.cards, start=1)
    )
    return row.pk


def rewrite_card(number: CardNumber, card: Card) -> None:
    """From now on the card is to hold something else. What lies in it is its events' matter; what it was to hold stays in the ledger."""
    CardRow.objects.filter(number=number).update(value=format_value(card), first=card.first, last=card.last)


def rewrite_set(set_id: int, plan: Plan, request: PlanRequest, rules: str) -> None:
    """The set's plan is another one, made for these orders: every sheet that is made of it from now on bears its fingerprint (R6)."""
    CardSet.objects.filter(id=set_id).update(
        basis=plan.basis,
        rules_id=rules,
        plan=format_value(plan),
        request=format_value(_Asked(**{name: getattr(request, name) for name in _Asked.__slots__})),
    )


def load_request(set_id: int) -> PlanRequest:
    """What the planner was asked for this set, with the rules as they stood. Raises Missing."""
    row = CardSet.objects.filter(id=set_id).first()
    if row is None:
        raise Missing("set", str(set_id))
    rules = load_rules(row.rules_id)
    asked = parse_value(_Asked, row.request)
    return PlanRequest(
        **{name: getattr(asked, name) for name in _Asked.__slots__},
        format=rules.card_format,
        profile=rules.profile,
        rules=rules.suitability,
        pairs=rules.pairs,
        spacings=rules.spacings,
    )


def load_set(set_id: int) -> StoredSet:
    """Raises Missing."""
    return _set(CardSet.objects.select_related("person").filter(id=set_id).first(), set_id, _rows())


def lock_set(set_id: int) -> StoredSet:
    """The set, its cards kept from the other stations until the transaction ends. Raises Missing."""
    return _set(CardSet.objects.select_related("person").filter(id=set_id).first(), set_id, _locked())


def load_card(number: CardNumber) -> StoredCard:
    """Raises Missing."""
    row = _CARD.one(number)
    if row is None:
        raise Missing("card", number)
    value, position, set_id, rules, *person = row
    state = load_states([number])[number]
    return StoredCard(parse_card(value), state, set_id, person_from(tuple(person)), position, len(_OF.rows(set_id)), rules)


_ITS_FIELDS = ("value", "position", "card_set_id", "card_set__rules_id", *(f"card_set__person__{name}" for name in PERSON_FIELDS))
_CARD = Question(lambda number: CardRow.objects.filter(number=number).values_list(*_ITS_FIELDS))
_OF = Question(lambda set_id: CardRow.objects.filter(card_set_id=set_id).values_list("position"))


def lock_card(number: CardNumber) -> StoredCard:
    """The card, kept from the other stations until the transaction ends. Raises Missing."""
    found = _each(_locked().filter(number=number))
    if not found:
        raise Missing("card", number)
    return found[0]


def lock_open_cards(person: PersonId) -> tuple[StoredCard, ...]:
    """Every card of the person whose life is not over, wherever it is, kept from the other stations."""
    over = [stage.value for stage in OVER]
    return _each(_locked().filter(card_set__person_id=person).exclude(stage__in=over).order_by("number"))


def lock_cards_by_pharmacy_times() -> tuple[StoredCard, ...]:
    """Every card whose life is not over of the people who follow the pharmacy's own timetable, kept from the other stations."""
    over = [stage.value for stage in OVER]
    rows = _locked().filter(card_set__person__timetable=None, card_set__person__home__timetable=None).exclude(stage__in=over)
    return _each(rows.order_by("number"))


_C = TypeVar("_C", bound=CardAtHand)


def save_event(stored: _C, deed: Deed, on: Occasion, facts: Mapping[str, Fact] | None = None) -> tuple[_C, int]:
    """Record what was done to the card, in the ledger and in the row that repeats the stage. The card after it, and the entry's number."""
    said = dict(facts or {})
    state = after(stored.state, CardEvent(stored.number, deed, on.by, on.at, on.station, said))
    if (state.stage, state.out_of_date) != (stored.state.stage, stored.state.out_of_date):
        CardRow.objects.filter(number=stored.number).update(stage=state.stage.value, out_of_date=state.out_of_date)
    sequence = append_entry(on, deed.value, ("card", stored.number), said)  # last: whoever holds the ledger's head holds up everybody
    if deed is Deed.WITHDRAWN and not CardRow.objects.filter(card_set_id=stored.set_id).exclude(stage=Stage.WITHDRAWN.value).exists():
        CardSet.objects.filter(id=stored.set_id).update(withdrawn=True)
    return replace(stored, state=state), sequence


_WHOLE_SET = ("card_set__request", "card_set__plan")  # long texts about all cards, which one card needs not


def _rows() -> QuerySet[CardRow]:
    return CardRow.objects.select_related("card_set__person").defer(*_WHOLE_SET)


def _locked() -> QuerySet[CardRow]:
    return _rows().select_for_update(of=("self",))


def _each(rows: Iterable[CardRow]) -> tuple[StoredCard, ...]:
    """Cards of any sets, in the order of the rows."""
    found = list(rows)
    sets = {row.card_set_id for row in found}
    many: dict[int, int] = Counter(CardRow.objects.filter(card_set__in=sets).values_list("card_set", flat=True))
    states = load_states([CardNumber(row.number) for row in found])
    return tuple(_stored(row, states[CardNumber(row.number)], many[row.card_set_id]) for row in found)


def _in_order(rows: Iterable[CardRow]) -> tuple[StoredCard, ...]:
    """All cards of one set, in order of position."""
    found = list(rows)
    states = load_states([CardNumber(row.number) for row in found])
    return tuple(sorted((_stored(row, states[CardNumber(row.number)], len(found)) for row in found), key=lambda card: card.position))


def _stored(row: CardRow, state: CardState, of: int) -> StoredCard:
    person = person_of(row.card_set.person)
    return StoredCard(parse_card(row.value), state, row.card_set_id, person, row.position, of, row.card_set.rules_id)


def _set(row: CardSet | None, set_id: int, cards: QuerySet[CardRow]) -> StoredSet:
    if row is None:
        raise Missing("set", str(set_id))
    # Locked in order of their numbers, like everywhere, so that two stations never wait for each other; shown in the set's own order.
    found = _in_order(cards.filter(card_set=row).order_by("number"))
    plan = parse_value(Plan, row.plan)
    return StoredSet(row.pk, person_of(row.person), plan, found, row.planned_at, row.planned_by, row.rules_id, row.withdrawn)
