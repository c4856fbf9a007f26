"""A pharmacist takes a proposal of fewer dosing times up: what was shown, what is asked, whether it may be; what the ledger keeps of it.

Comes in: the proposal as it is made now, and what the pharmacist saw and says. Goes out: the findings that keep it from being taken up, and
each order's facts. Only the proposal that was shown is taken up: if anything changed meanwhile, it is shown anew.
"""

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from dosewright.core.custody.reason import check_reason
from dosewright.core.packing.dosing_times.times_values import Move, Proposal
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import DosingTime, Timetable
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode, OrderId
from dosewright.core.units.quantity import Unit

__all__ = ["TAKEN_UP", "TimesAsk", "check_nothing_lost", "check_taking_up", "ended", "facts_of_move", "mark_of", "renamed"]

TAKEN_UP = "dosing times taken up"  # the ledger's event
_RECOUNTED = 92  # days from the day it is done: the longest set that may be planned


@dataclass(frozen=True, slots=True)
class TimesAsk:
    """From which day, which orders stay, what was shown (`mark_of` the proposal), and with whom it was agreed."""

    first: date
    stay: tuple[OrderId, ...] = ()
    shown: str = ""
    agreed: str = ""


def mark_of(proposal: Proposal, first: date) -> str:
    """One name for exactly these moves from exactly this day: what was shown is what is taken up."""
    moves = (f"{move.order}|{_written(move.today)}|{_written(move.proposed)}" for move in proposal.moves)
    return hashlib.sha256("\n".join((str(first), proposal.person, *moves)).encode()).hexdigest()


def check_taking_up(proposal: Proposal, ask: TimesAsk, today: date) -> tuple[Finding, ...]:
    """Find a day that has begun, a proposal of nothing, one that is not what was shown, and no word about with whom it was agreed."""
    return tuple(_check(proposal, ask, today))


def _check(proposal: Proposal, ask: TimesAsk, today: date) -> Iterator[Finding]:
    if ask.first <= today:
        yield Finding("custody.times-day-begun", Severity.STOP, facts={"date": ask.first})
    if not proposal.moves:
        yield Finding("custody.times-nothing-to-take-up", Severity.STOP)
    elif ask.shown != mark_of(proposal, ask.first):
        yield Finding("custody.times-changed", Severity.STOP)
    yield from check_reason(ask.agreed)


def check_nothing_lost(before: Iterable[Order], after: Iterable[Order], timetable: Timetable, first: date) -> tuple[Finding, ...]:
    """Count the doses of the orders as they were and as they were saved: a stop where any product's amount on any day differs (R3)."""
    if _amounts(before, timetable, first) == _amounts(after, timetable, first):
        return ()
    return (Finding("custody.times-lose-doses", Severity.STOP),)


def _amounts(orders: Iterable[Order], timetable: Timetable, first: date) -> dict[tuple[MedicineCode, date, Unit], Fraction]:
    amounts: dict[tuple[MedicineCode, date, Unit], Fraction] = {}
    for order in orders:
        for dose in expand(order, timetable, first, _RECOUNTED).doses:
            key = order.medicine, dose.day, dose.quantity.unit
            amounts[key] = amounts.get(key, Fraction(0)) + dose.quantity.count
    return amounts


def renamed(move: Move, order: OrderId) -> Order:
    """The order as it counts from the first day on, under the id that the store gave it."""
    return replace(move.order, id=order)


def ended(order: Order, move: Move) -> Order:
    """The order that it takes the place of: no dose of it is due once the new one begins."""
    return replace(order, until=move.order.since)


def facts_of_move(move: Move, ask: TimesAsk) -> dict[str, Fact]:
    """Whose order, in which words, from when, from which dosing times to which, on what that relies, and with whom it was agreed."""
    return {
        "person": move.order.person,
        "medicine": move.medicine,
        "text": move.order.text,
        "since": ask.first,
        "replaces": move.order.id,
        "today": _names(move.today),
        "proposed": _names(move.proposed),
        "relies on": tuple(dict.fromkeys(found.code for found in move.relies_on)),
        "agreed": ask.agreed,
    }


def _names(times: Iterable[DosingTime]) -> tuple[str, ...]:
    return tuple(f"{slot.time:%H:%M} {slot.name}" for slot in times)


def _written(times: Iterable[DosingTime]) -> str:
    return ", ".join(_names(times))
