"""Fourteen days of one order as dials with amounts: what a reading would give, day by day."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, time, timedelta

from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact, Finding, needs_a_person
from dosewright.core.units.quantity import Quantity
from dosewright.web.card_map import glyph

__all__ = ["DAYS", "DialDose", "RegimenStrip", "StripDay", "StripRow", "draw_strip", "event_in_words"]

DAYS = 14
# FHIR R4 event-timing codes, none of which is a word
_EVENTS = {
    "CM": "with breakfast", "CD": "with lunch", "CV": "with the evening meal", "C": "with meals",
    "ACM": "before breakfast", "ACD": "before lunch", "ACV": "before the evening meal", "AC": "before meals",
    "PCM": "after breakfast", "PCD": "after lunch", "PCV": "after the evening meal", "PC": "after meals",
    "MORN": "in the morning", "NOON": "at noon", "AFT": "in the afternoon", "EVE": "in the evening", "NIGHT": "at night",
    "HS": "before sleep", "WAKE": "on waking", "PHS": "after falling asleep",
}  # fmt: skip
_PATH = re.compile(r"dosage\[(\d+)\]")


@dataclass(frozen=True, slots=True)
class DialDose:
    """One dose: its time for the dial, its amount as a glyph, and both in words."""

    time: time
    slot: str
    glyph: str
    spoken: str


@dataclass(frozen=True, slots=True)
class StripDay:
    """One day, with its doses in order of the clock."""

    day: date
    doses: tuple[DialDose, ...]


@dataclass(frozen=True, slots=True)
class StripRow:
    """One dosing time through all the days, for the table beside the drawing: what is given each day, "" where nothing is."""

    time: time
    slot: str
    amounts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RegimenStrip:
    """The days, the defaults that were supplied for them, and what keeps them from being certain: then it is not `certain`."""

    days: tuple[StripDay, ...]
    assumed: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    as_needed: bool

    @property
    def rows(self) -> tuple[StripRow, ...]:
        """The same, dosing time by dosing time in order of the clock."""
        times = sorted({(dose.time, dose.slot) for day in self.days for dose in day.doses})
        return tuple(StripRow(at, slot, tuple(_at(day, at, slot) for day in self.days)) for at, slot in times)

    @property
    def certain(self) -> bool:
        """Whether it can be packed, or be kept for when it is needed."""
        return not needs_a_person(self.findings)


def draw_strip(order: Order, timetable: Timetable, first: date, unit: str) -> RegimenStrip:
    """`unit` is the medicine's own countable word, for amounts that name none."""
    found = expand(order, timetable, first, DAYS)
    days = tuple(StripDay(day, _doses(found.doses, day, unit)) for day in (first + timedelta(days=n) for n in range(DAYS)))
    return RegimenStrip(days, _numbered(found.assumed), _numbered(found.findings), found.status is ExpansionStatus.AS_NEEDED)


def _numbered(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """ "Instruction 1" instead of "dosage[0]", "with breakfast" instead of "CM"."""
    return tuple(event_in_words(finding) for finding in findings)


def event_in_words(finding: Finding) -> Finding:
    """The finding with its instruction and its event as people name them."""
    return replace(finding, where=_in_words(finding.where), facts=_event_in_words(finding.facts))


def _in_words(where: Mapping[str, Fact]) -> dict[str, Fact]:
    found = _PATH.match(str(where.get("path", "")))
    return {**where, "path": f"Instruction {int(found[1]) + 1}"} if found else dict(where)


def _event_in_words(facts: Mapping[str, Fact]) -> dict[str, Fact]:
    event = str(facts.get("event", ""))
    return {**facts, "event": _EVENTS[event]} if event in _EVENTS else dict(facts)


def _at(day: StripDay, at: time, slot: str) -> str:
    return ", ".join(dose.glyph for dose in day.doses if (dose.time, dose.slot) == (at, slot))


def _doses(doses: tuple[Dose, ...], day: date, unit: str) -> tuple[DialDose, ...]:
    return tuple(DialDose(dose.time, dose.slot, glyph(dose.quantity.count), _spoken(dose, unit)) for dose in doses if dose.day == day)


def _spoken(dose: Dose, unit: str) -> str:
    amount = dose.quantity if dose.quantity.unit else Quantity(dose.quantity.count, unit)  # type: ignore[arg-type]
    return f"{format_quantity(amount)} at {dose.time:%H:%M}, {dose.slot}"
