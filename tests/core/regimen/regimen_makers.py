"""Small orders with dull defaults, changed by naming one field; and what the standard timetable calls its clock times."""

from dataclasses import replace
from datetime import date, time
from fractions import Fraction

from dosewright.core.regimen.dosage import Amount, Dosage, Period, Repeat, TimeUnit, Timing
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.quantity import Quantity, Unit

MONDAY = date(2026, 3, 2)

ONE_TABLET = (Amount(Quantity(Fraction(1), Unit("tablet"))),)
EVERY_MORNING = Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=("MORN",))


def a_dosage(repeat: Repeat | None = EVERY_MORNING, **fields: object) -> Dosage:
    dosage = Dosage(timing=Timing(repeat=repeat) if repeat else None, amounts=ONE_TABLET)
    return replace(dosage, **fields)  # type: ignore[arg-type]


def an_order(*dosages: Dosage, **fields: object) -> Order:
    order = Order(OrderId("o1"), PersonId("p1"), MedicineCode("m1"), dosages)
    return replace(order, **fields)  # type: ignore[arg-type]


def every(frequency: int | None, period: int | Fraction, unit: str, **fields: object) -> Repeat:
    repeat = Repeat(frequency=frequency, period=Fraction(period), period_unit=TimeUnit(unit))
    return replace(repeat, **fields)  # type: ignore[arg-type]


def from_day(start: date, end: date | None = None) -> Period:
    return Period(start, end)


def expanded(repeat: Repeat, first: date = MONDAY, days: int = 28, **fields: object) -> Expansion:
    return expand(an_order(a_dosage(repeat), **fields), STANDARD_TIMETABLE, first, days)


def moments(expansion: Expansion) -> list[tuple[date, time]]:
    return [(dose.day, dose.time) for dose in expansion.doses]


def days_of(expansion: Expansion) -> list[date]:
    return [dose.day for dose in expansion.doses]


def codes(expansion: Expansion) -> list[str]:
    return [finding.code for finding in expansion.findings]


def assumed(expansion: Expansion) -> list[str]:
    return [finding.code.removeprefix("assumed.") for finding in expansion.assumed]
