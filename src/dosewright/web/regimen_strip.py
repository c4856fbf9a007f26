"""Fourteen days of one order as dials with amounts: what a reading would give, day by day."""

from dataclasses import dataclass
from datetime import date, time, timedelta

from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Finding
from dosewright.core.units.quantity import Quantity
from dosewright.web.card_map import glyph

__all__ = ["DAYS", "DialDose", "RegimenStrip", "StripDay", "draw_strip"]

DAYS = 14


@dataclass(frozen=True, slots=True)
class DialDose:
    """One dose: its time for the dial, its amount as a glyph, and both in words."""

    time: time
    glyph: str
    spoken: str


@dataclass(frozen=True, slots=True)
class StripDay:
    """One day, with its doses in order of the clock."""

    day: date
    doses: tuple[DialDose, ...]


@dataclass(frozen=True, slots=True)
class RegimenStrip:
    """The days, the defaults that were supplied for them, and what keeps them from being certain."""

    days: tuple[StripDay, ...]
    assumed: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    as_needed: bool


def draw_strip(order: Order, timetable: Timetable, first: date, unit: str) -> RegimenStrip:
    """`unit` is the medicine's own countable word, for amounts that name none."""
    found = expand(order, timetable, first, DAYS)
    days = tuple(StripDay(day, _doses(found.doses, day, unit)) for day in (first + timedelta(days=n) for n in range(DAYS)))
    return RegimenStrip(days, found.assumed, found.findings, found.status == "as-needed")


def _doses(doses: tuple[Dose, ...], day: date, unit: str) -> tuple[DialDose, ...]:
    return tuple(DialDose(dose.time, glyph(dose.quantity.count), _spoken(dose, unit)) for dose in doses if dose.day == day)


def _spoken(dose: Dose, unit: str) -> str:
    amount = dose.quantity if dose.quantity.unit else Quantity(dose.quantity.count, unit)  # type: ignore[arg-type]
    return f"{format_quantity(amount)} at {dose.time:%H:%M}, {dose.slot}"
