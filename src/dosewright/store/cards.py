"""Sets and cards ⇄ rows. What a card is now comes from its events; the row repeats the stage for lists."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from django.db.models import QuerySet

from dosewright.core.checking.filled import FilledCard, lay_out
from dosewright.core.custody.event import CardEvent, Deed, Occasion
from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.custody.state import CardState, after, state_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, PersonPlan, Plan
from dosewright.core.packing.request import Answer, LabelLines, Places, PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, MedicineCode, PersonId
from dosewright.core.units.person import Person
from dosewright.store.ledger import append_entry, load_card_events
from dosewright.store.missing import Missing
from dosewright.store.models import CardRow, CardSet
from dosewright.store.people import person_of
from dosewright.store.pharmacy import load_rules
from dosewright.store.value_json import format_value, parse_value

__all__ = [
    "StoredCard",
    "StoredSet",
    "load_card",
    "load_request",
    "load_set",
    "lock_card",
    "lock_cards_by_pharmacy_times",
    "lock_cards_of",
    "lock_open_cards",
    "lock_set",
    "rewrite_card",
    "rewrite_set",
    "save_event",
    "save_set",
]


@dataclass(frozen=True, slots=True)
class StoredCard:
    """A card: what the plan wants of it, and what it is now. `position` of `of` in its set."""

    card: Card
    state: CardState
    set_id: int
    person: Person
    position: int
    of: int
    rules: str

    @property
    def number(self) -> CardNumber:
        """The card's own number."""
        return self.card.number

    @property
    def on_bench(self) -> bool:
        """Whether it may be filled now, or is being filled."""
        return self.state.stage in {Stage.PRINTED, Stage.FILLING}

    @property
    def filled(self) -> FilledCard:
        """The plan and what lies in the card, cavity by cavity."""
        return lay_out(self.card, self.state.placed)


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


def lock_cards_of(set_id: int) -> tuple[StoredCard, ...]:
    """The cards of a set alone, in order of position, kept from the other stations: all that a placement needs. Raises Missing."""
    rows = list(_locked().filter(card_set_id=set_id).order_by("number"))
    if not rows:
        raise Missing("set", str(set_id))
    return tuple(sorted((_stored(row, len(rows)) for row in rows), key=lambda card: card.position))


def load_card(number: CardNumber) -> StoredCard:
    """Raises Missing."""
    return _card(_rows().filter(number=number).first(), number)


def lock_card(number: CardNumber) -> StoredCard:
    """The card, kept from the other stations until the transaction ends. Raises Missing."""
    return _card(_locked().filter(number=number).first(), number)


def lock_open_cards(person: PersonId) -> tuple[StoredCard, ...]:
    """Every card of the person whose life is not over, wherever it is, kept from the other stations."""
    over = [stage.value for stage in OVER]
    rows = _locked().filter(card_set__person_id=person).exclude(stage__in=over).order_by("number")
    return tuple(_stored(row) for row in rows)


def lock_cards_by_pharmacy_times() -> tuple[StoredCard, ...]:
    """Every card whose life is not over of the people who follow the pharmacy's own timetable, kept from the other stations."""
    over = [stage.value for stage in OVER]
    rows = _locked().filter(card_set__person__timetable=None, card_set__person__home__timetable=None).exclude(stage__in=over)
    return tuple(_stored(row) for row in rows.order_by("number"))


def save_event(stored: StoredCard, deed: Deed, on: Occasion, facts: Mapping[str, Fact] | None = None) -> tuple[StoredCard, int]:
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


def _card(row: CardRow | None, number: CardNumber) -> StoredCard:
    if row is None:
        raise Missing("card", number)
    return _stored(row)


def _stored(row: CardRow, of: int = 0) -> StoredCard:
    """`of`: how many cards the set has, where that is known already."""
    number = CardNumber(row.number)
    of = of or CardRow.objects.filter(card_set_id=row.card_set_id).count()
    state = state_of(number, load_card_events(number))
    person = person_of(row.card_set.person)
    return StoredCard(parse_value(Card, row.value), state, row.card_set_id, person, row.position, of, row.card_set.rules_id)


def _set(row: CardSet | None, set_id: int, cards: QuerySet[CardRow]) -> StoredSet:
    if row is None:
        raise Missing("set", str(set_id))
    # Locked in order of their numbers, like everywhere, so that two stations never wait for each other; shown in the set's own order.
    rows = list(cards.filter(card_set=row).order_by("number"))
    found = sorted((_stored(card, len(rows)) for card in rows), key=lambda card: card.position)
    plan = parse_value(Plan, row.plan)
    return StoredSet(row.pk, person_of(row.person), plan, tuple(found), row.planned_at, row.planned_by, row.rules_id, row.withdrawn)
