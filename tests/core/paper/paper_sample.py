"""A small set that the paper tests know by heart: one person, one 7×4 card, eight medicines. Change it by replacing one thing."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.packing.card_format import Box, CardFormat, Cavity, LabelSheet
from dosewright.core.packing.plan_values import Alongside, Card, CardColumn, Content, PackedCavity, PersonPlan, Plan, Proof
from dosewright.core.packing.profile import Profile, Sourced
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.material import Material, Pharmacy
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.ids import CardNumber, HomeId, MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.fonts import load_fonts

FIRST = date(2026, 3, 2)  # a Monday

SHEET = LabelSheet(
    Fraction(210),
    Fraction(297),
    Box(Fraction(8), Fraction(7), Fraction(194), Fraction(84)),
    Box(Fraction(8), Fraction(93), Fraction(97, 2), Fraction(28)),
    Fraction(97, 2),
    Fraction(28),
    4,
)
FORMAT = CardFormat(
    "sample",
    "7 days by 4",
    rows=7,
    columns=4,
    roll=False,
    filled_from_back=False,
    cavity=Cavity(Fraction(30), Fraction(18), Fraction(14), Fraction("0.45"), 8),
    sheet=SHEET,
    smallest_type=Fraction(7),
)
PROFILE = Profile(
    "sample",
    "Sample",
    "GB",
    "",
    None,
    {
        name: Sourced("printed", "sample", "2026", "required")
        for name in ("patient.name", "pharmacy.name", "pack.serial", "line.directions", "line.name", "pack.bud")
    },
    {"number_style": Sourced("digits", "sample", "2026"), "bud_max_days": Sourced(56, "sample", "2026")},
)
PERSON = Person(PersonId("p1"), "Wilhelmina Okonedo-Hart", date(1939, 2, 4), HomeId("lindens"), "12")


def medicine(code: str, name: str, strength: str, form: str = "tablet", **more: object) -> Medicine:
    more.setdefault("cautions", ("Do not stop taking this medicine unless your doctor tells you",))
    more.setdefault("colour", "white")
    more.setdefault("shape", Shape.ROUND)
    if more["shape"]:
        more.setdefault("size", Size(Fraction(9), Fraction(8), Fraction(4)))
    more.setdefault("maker", "Halden Laboratories")
    return Medicine(MedicineCode(code), name, strength, form, Unit(form.rsplit(maxsplit=1)[-1]), **more)  # type: ignore[arg-type]


CATALOGUE = {
    m.code: m
    for m in (
        medicine("metf", "metformin", "500 mg", shape=Shape.CAPLET, cautions=("Take with or just after food",)),
        medicine("biso", "bisoprolol", "2.5 mg", mark="B", colour="yellow"),
        medicine("para", "paracetamol", "500 mg", shape=Shape.CAPLET, cautions=("Do not take anything else that contains paracetamol",)),
        medicine("digo", "digoxin", "62.5 micrograms", mark="D 6", colour="blue"),
        medicine("omep", "omeprazole", "20 mg", "gastro-resistant capsule", shape=Shape.CAPSULE, colour="pink and brown", cautions=()),
        medicine("quet", "quetiapine", "50 mg", "modified-release tablet", mark="Q 50", colour="peach"),
        medicine("warf", "warfarin", "1 mg", colour="brown", mark="W 1"),
        medicine("salb", "salbutamol", "100 micrograms", "inhaler", shape=None, colour="blue", cautions=()),
        medicine("lact", "lactulose", "3.35 g in 5 mL", "oral solution", shape=None, colour="", cautions=()),
    )
}

REGULAR = [  # code, directions, {slot: amount}, every n days
    ("metf", "Take 1 tablet in the morning and 1 tablet in the evening.", {"morning": "1", "evening": "1"}, 1),
    ("biso", "Take half a tablet in the morning.", {"morning": "1/2"}, 1),
    (
        "para",
        "Take 2 tablets in the morning, at noon, in the evening and at bedtime.",
        {"morning": "2", "noon": "2", "evening": "2", "bedtime": "2"},
        1,
    ),
    ("digo", "Take 1 tablet in the morning.", {"morning": "1"}, 1),
    ("omep", "Take 1 capsule in the morning.", {"morning": "1"}, 1),
    ("quet", "Take 1 and a half tablets at bedtime.", {"bedtime": "3/2"}, 1),
    ("warf", "Take 3 tablets in the evening every other day.", {"evening": "3"}, 2),
]


def order(code: str, text: str, **more: object) -> Order:
    return Order(OrderId(f"o-{code}"), PERSON.id, MedicineCode(code), (), text, prescriber="Dr A. Nwosu", rx_no=f"RX-{code}-1", **more)  # type: ignore[arg-type]


ORDERS = (
    *(order(code, text) for code, text, _, _ in REGULAR),
    order("salb", "Inhale 2 puffs when needed for breathlessness, at most 8 puffs in 24 hours."),
    order("lact", "Take 15 mL in the evening."),
)


def cavities() -> Iterator[PackedCavity]:
    for row in range(1, 8):
        day = FIRST + timedelta(days=row - 1)
        for column, slot in enumerate(STANDARD_TIMETABLE.slots, start=1):
            contents = tuple(
                Content(
                    OrderId(f"o-{code}"), MedicineCode(code), Quantity(Fraction(amounts[slot.name]), CATALOGUE[MedicineCode(code)].unit)
                )
                for code, _, amounts, every in REGULAR
                if slot.name in amounts and (row - 1) % every == 0
            )
            if contents:
                yield PackedCavity(row, column, day, slot.name, slot.time, contents, Fraction(3, 10))


CARD = Card(
    CardNumber("TS-20417"),
    FIRST,
    FIRST + timedelta(days=6),
    date(2026, 4, 20),
    tuple(CardColumn(n, SlotName(slot.name), slot.time, FIRST) for n, slot in enumerate(STANDARD_TIMETABLE.slots, start=1)),
    tuple(cavities()),
)
PERSON_PLAN = PersonPlan(
    PERSON.id,
    (CARD,),
    (Alongside(OrderId("o-salb"), MedicineCode("salb"), "as-needed"), Alongside(OrderId("o-lact"), MedicineCode("lact"), "form.liquid")),
    Proof(4, 4, optimal=True, nodes=1, cards=1, cards_lower_bound=1),
)
PLAN = Plan("7f3a91c2" * 8, FIRST, 7, "sample", "sample", (PERSON_PLAN,), ())
REQUEST = PlanRequest((PERSON,), ORDERS, CATALOGUE, FORMAT, PROFILE, FIRST, 7, date(2026, 2, 26))
PHARMACY = Pharmacy("Tern Street Pharmacy", "14 Tern Street, Saltmarsh SM1 4TS", "01632 960 144", "")
MATERIAL = Material(PLAN, REQUEST, PHARMACY, load_fonts(), {HomeId("lindens"): "The Lindens"})

__all__ = [
    "CARD",
    "CATALOGUE",
    "FORMAT",
    "MATERIAL",
    "ORDERS",
    "PERSON",
    "PERSON_PLAN",
    "PHARMACY",
    "PLAN",
    "PROFILE",
    "REQUEST",
    "replace",
    "time",
]
