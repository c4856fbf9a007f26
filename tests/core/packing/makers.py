"""Builders with dull defaults for packing tests: one person, one home, one format, one profile that everyone knows by heart."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.packing.card_format import Box, CardFormat, Cavity, LabelSheet
from dosewright.core.packing.cards import DraftColumn
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.profile import Profile, Sourced
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing, Weekday
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit

TABLET = Size(Fraction(8), Fraction(8), Fraction("3.2"))
MONDAY = date(2026, 3, 2)
IRIS = Person(PersonId("p1"), "Iris Fenwick")

_BOX = Box(*map(Fraction, (8, 8, 194, 66)))
_SHEET = LabelSheet(Fraction(210), Fraction(297), _BOX, _BOX, Fraction(48), Fraction(30), 4)
# 30 × 20 × 12 mm, 45 % of it usable: 3,240 mm³; eight pieces.
SEVEN_BY_FOUR = CardFormat(
    name="test-7x4",
    title="Seven days by four",
    rows=7,
    columns=4,
    roll=False,
    filled_from_back=False,
    cavity=Cavity(Fraction(30), Fraction(20), Fraction(12), Fraction(45, 100), 8),
    sheet=_SHEET,
    smallest_type=Fraction(7),
)
ROLL = replace(SEVEN_BY_FOUR, name="test-roll", rows=1, columns=14, roll=True)


def profile(**rules: int | bool | str) -> Profile:
    values: dict[str, int | bool | str] = {
        "bud_max_days": 60,
        "number_style": "digits",
        "as_needed_in_card": False,
        "controlled_in_card": False,
        "hazardous_in_card": False,
        "one_person_may_check": False,
        "max_supply_days": 62,
        "weeks_a_card_max": 4,
        "micrograms_below_mg": False,
        **rules,
    }
    lines = {name: Sourced(value, "test", "2026") for name, value in values.items()}
    return Profile("test", "Test profile", "GB", "", None, {}, lines)


def medicine(name: str, size: Size | None = TABLET, **changes: object) -> Medicine:
    """A round flat tablet of 8 by 3.2 mm, 161 mm³, unless told otherwise; its code is its name in small letters."""
    made = Medicine(
        code=MedicineCode(name.lower()),
        name=name,
        strength="5 mg",
        form="tablet",
        unit=Unit("tablet"),
        strength_amount=Quantity(Fraction(5), Unit("mg")),
        shape=Shape.ROUND,
        size=size,
        colour="",
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def dosage(count: object, *when: str, unit: str = "tablet", days: Iterable[Weekday] = (), as_needed: bool = False) -> Dosage:
    """So many units at each of the events, every day, or on some days of the week."""
    weekly = tuple(days)
    repeat = Repeat(
        frequency=None if weekly else len(when),
        period=None if weekly else Fraction(1),
        period_unit=None if weekly else TimeUnit.DAY,
        day_of_week=weekly,
        when=when,
    )
    quantity = Quantity(Fraction(str(count)), Unit(unit))
    return Dosage(timing=Timing(repeat=repeat), as_needed=as_needed, amounts=(Amount(quantity=quantity),))


def order(id: str, what: Medicine | str, *dosages: Dosage, person: Person = IRIS, **changes: object) -> Order:
    code = what.code if isinstance(what, Medicine) else MedicineCode(what)
    return replace(Order(OrderId(id), person.id, code, dosages, anchor=MONDAY), **changes)  # type: ignore[arg-type]


def request(orders: Iterable[Order], medicines: Iterable[Medicine], **changes: object) -> PlanRequest:
    made = PlanRequest(
        people=(IRIS,),
        orders=tuple(orders),
        medicines={m.code: m for m in medicines},
        format=SEVEN_BY_FOUR,
        profile=profile(),
        first=MONDAY,
        days=28,
        prepared_on=date(2026, 2, 27),
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def plan_of(asked: PlanRequest) -> Plan:
    """The plan, after the recount has found nothing wrong with it."""
    plan = plan_cycle(asked)
    assert verify(plan, asked) == ()
    return plan


def draft_week(week: int, columns: int) -> list[DraftColumn]:
    """So many columns of one week, all of the morning, none with anything in it."""
    days = tuple(MONDAY + timedelta(days=7 * week + n) for n in range(7))
    return [DraftColumn(SlotName("morning"), time(8), days, part, columns, ()) for part in range(1, columns + 1)]
