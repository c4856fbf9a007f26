"""One medicine's current instruction for one person, in force from one dosing time until another; and the doses it gives."""

from dataclasses import dataclass
from datetime import date, time
from typing import NamedTuple

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.quantity import Quantity

__all__ = ["Dose", "Order", "Series"]


@dataclass(frozen=True, slots=True)
class Order:
    """`dosages` together are the order's directions; `text` is what was received, kept for ever.

    In force from `since` (None: always was) up to, not including, `until` (None: no end). `anchor` is the day from which rhythms,
    counts and courses run where the structure itself names no start; it never moves with a cycle. `purpose`: what the medicine is for, in
    the prescriber's words, where they are given.
    """

    id: OrderId
    person: PersonId
    medicine: MedicineCode
    dosages: tuple[Dosage, ...]
    text: str = ""
    since: Moment | None = None
    until: Moment | None = None
    anchor: date | None = None
    prescriber: str = ""
    rx_no: str = ""
    purpose: str | None = None

    def in_force(self, at: Moment) -> bool:
        """Whether the order counts at that day and clock time."""
        return (self.since is None or self.since <= at) and (self.until is None or at < self.until)


class Dose(NamedTuple):
    """One thing to be taken once: so much of one order's medicine, on one day, at one dosing time. No medicine twice over two orders
    is merged: each dose keeps its order. A tuple, because a home's month makes ten thousand of them."""

    order: OrderId
    person: PersonId
    medicine: MedicineCode
    quantity: Quantity
    day: date
    slot: SlotName
    time: time


class Series(NamedTuple):
    """One amount at one dosing time, with the days on which it is due, in order. Orders with the same directions share theirs."""

    quantity: Quantity
    slot: SlotName
    time: time
    days: tuple[date, ...]
