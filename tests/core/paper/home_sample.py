"""A small home for the tests of sheets for many: the sample's person, and a neighbour whose orders are structure."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction

from tests.core.paper.paper_sample import CARD, CATALOGUE, MATERIAL, PERSON, PERSON_PLAN, PLAN, REQUEST

from dosewright.core.packing.plan_values import Alongside, Card, CardColumn, Content, PackedCavity, PersonPlan
from dosewright.core.paper.manifest import Manifest, Parcel, ParcelCard
from dosewright.core.paper.material import Material
from dosewright.core.paper.recall import Recall, RecalledCard, RecalledDose
from dosewright.core.regimen.dosage import Amount, Coding, Dosage, Maximum, Repeat, Span, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, HomeId, Lot, MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["HOME", "MADE", "MANIFEST", "MONDAY", "NEIGHBOUR", "NEIGHBOUR_MATERIAL", "RECALL", "as_needed", "daily", "month_of", "ordered"]

MADE = datetime(2026, 2, 26, 11, 30)  # noqa: DTZ001 — the clock on the pharmacy's wall
MONDAY, SUNDAY = date(2026, 3, 2), date(2026, 3, 8)
NEIGHBOUR = Person(PersonId("p2"), "Benedikt Strand", date(1941, 7, 19), HomeId("lindens"), "3")


def daily(amount: str, when: str, medicine: str, number: str = "o-n1") -> Order:
    """So many tablets each day at one time of day."""
    dosage = Dosage(
        timing=Timing(repeat=Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=(when,))),
        amounts=(Amount(quantity=Quantity(Fraction(amount), Unit("tablet"))),),
    )
    return Order(OrderId(number), NEIGHBOUR.id, MedicineCode(medicine), (dosage,), anchor=MONDAY, rx_no="000077")


def as_needed(most: str = "8", hours: str = "4") -> Order:
    """Two puffs when needed for breathlessness; `most` in 24 hours and `hours` apart, where they are given."""
    repeat = Repeat(frequency=1, period=Fraction(hours), period_unit=TimeUnit.HOUR) if hours else None
    limit = Maximum(Quantity(Fraction(most), Unit("puff")), Span(Fraction(24), TimeUnit.HOUR)) if most else None
    dosage = Dosage(
        timing=Timing(repeat=repeat) if repeat else None,
        as_needed=True,
        as_needed_for=Coding(text="breathlessness"),
        amounts=(Amount(quantity=Quantity(Fraction(2), Unit("puff"))),),
        max_per_period=limit,
    )
    return Order(OrderId("o-n2"), NEIGHBOUR.id, MedicineCode("salb"), (dosage,))


def _card(first: date, days: int, number: str) -> Card:
    cavities = tuple(
        PackedCavity(
            row,
            1,
            first + timedelta(days=row - 1),
            SlotName("morning"),
            time(8),
            (Content(OrderId("o-n1"), MedicineCode("biso"), Quantity(Fraction(1), Unit("tablet"))),),
            Fraction(1, 10),
        )
        for row in range(1, days + 1)
    )
    column = CardColumn(1, SlotName("morning"), time(8), first)
    return Card(CardNumber(number), first, first + timedelta(days=days - 1), date(2026, 4, 20), (column,), cavities)


NEIGHBOUR_PLAN = PersonPlan(
    NEIGHBOUR.id,
    (_card(MONDAY, 7, "204175531099218"),),
    (Alongside(OrderId("o-n2"), MedicineCode("salb"), "as-needed"),),
    PERSON_PLAN.proof,
)
NEIGHBOUR_MATERIAL = replace(
    MATERIAL,
    plan=replace(PLAN, basis="91c2" * 16, people=(NEIGHBOUR_PLAN,)),
    request=replace(REQUEST, people=(NEIGHBOUR,), orders=(daily("1", "MORN", "biso"), as_needed())),
)
HOME: tuple[Material, ...] = (MATERIAL, NEIGHBOUR_MATERIAL)


def ordered(*orders: Order) -> Material:
    """The neighbour with these orders, and with the as-needed one only where it is among them."""
    ids = {order.id for order in orders}
    plan = replace(NEIGHBOUR_PLAN, alongside=tuple(line for line in NEIGHBOUR_PLAN.alongside if line.order in ids))
    request = replace(NEIGHBOUR_MATERIAL.request, orders=orders)
    return replace(NEIGHBOUR_MATERIAL, plan=replace(NEIGHBOUR_MATERIAL.plan, people=(plan,)), request=request)


def month_of(material: Material, first: date = date(2026, 3, 1), days: int = 31) -> Material:
    """The same for the days of a month."""
    return replace(material, request=replace(material.request, first=first, days=days))


MANIFEST = Manifest(
    "The Lindens",
    "2 Linden Way, Saltmarsh",
    date(2026, 2, 27),
    MADE,
    (
        Parcel(PERSON, "born 4 February 1939, room 12", (ParcelCard(CARD.number, CARD.first, CARD.last, PLAN.basis),), 2),
        Parcel(NEIGHBOUR, "born 19 July 1941, room 3", (ParcelCard(CardNumber("204175531099218"), MONDAY, SUNDAY, "91c2" * 16),), 0),
    ),
    (CardNumber("310775531094410"),),
)


def _doses(card: Card, code: str) -> tuple[RecalledDose, ...]:
    return tuple(
        RecalledDose(c.row, c.column, c.day, c.time, c.slot, content.quantity.count)
        for c in card.cavities
        for content in c.contents
        if content.medicine == code
    )


def _recalled(person: Person, card: Card, others: str, stage: str) -> RecalledCard:
    """The card as a recall sees it: with its home, or the person's own name."""
    place = "The Lindens" if person.home else person.name
    return RecalledCard(person, others, place, card.number, stage, out=stage != "sealed", basis=PLAN.basis, doses=_doses(card, "biso"))


RECALL = Recall(
    CATALOGUE[MedicineCode("biso")],
    (Lot("K2207"),),
    "Class 2: within 48 hours",
    "Tablets of another strength were found in one bottle.",
    Moment(date(2026, 3, 5), time(12)),
    datetime(2026, 3, 5, 12, 0),  # noqa: DTZ001
    (
        _recalled(PERSON, CARD, "born 4 February 1939, room 12", stage="in use"),
        _recalled(NEIGHBOUR, NEIGHBOUR_PLAN.cards[0], "born 19 July 1941", stage="received"),
        _recalled(Person(PersonId("p3"), "Agnes Adeyemi"), _card(MONDAY, 1, "310775531094410"), "4 Quay Lane", stage="in use"),
        _recalled(Person(PersonId("p4"), "Tomasz Brandt"), _card(date(2026, 3, 9), 1, "418875531094411"), "", stage="sealed"),
    ),
)
