"""Builders for proposals of dosing times: orders in words, timetables of clock times, the rules that ship."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import time
from functools import cache

from tests.core.medicines.shipped_rules import pairs, rules, spacings
from tests.core.packing.makers import IRIS, medicine, request

from dosewright.core.interop.time_rules_toml import parse_time_rules
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.time_of_day import TimeRules
from dosewright.core.packing.dosing_times.propose import propose
from dosewright.core.packing.dosing_times.times_values import Move, Proposal
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting
from dosewright.core.units.dosing_time import DosingTime, Timetable
from dosewright.core.units.ids import HomeId, MedicineCode, OrderId, SlotName
from dosewright.core.units.person import Person
from dosewright.devices.shipped import read_shipped

AT_HOME, IN_A_HOME = IRIS, replace(IRIS, home=HomeId("saltmarsh"))


@cache
def time_rules() -> TimeRules:
    return parse_time_rules(read_shipped("suitability", "times.toml"))


def written(id: str, what: str, text: str, person: Person = IRIS, **changes: object) -> Order:
    """An order as its words are read, of a product of that name."""
    reading = read(text, Setting(country="GB", form="tablet", strength="5 mg"))
    assert reading.status is ReadingStatus.READ, f"{text}: {reading.questions}"
    made = Order(OrderId(id), person.id, MedicineCode(what.lower()), reading.dosages, text=text, anchor=request((), ()).first)
    return replace(made, **changes)  # type: ignore[arg-type]


def clocks(*times: str, often: dict[int, tuple[str, ...]] | None = None) -> Timetable:
    """Dosing times as "08:00 MORN CM": the first word is name and clock time, the others its events."""
    slots = tuple(DosingTime(SlotName(clock), time.fromisoformat(clock), frozenset(events)) for clock, *events in map(str.split, times))
    return Timetable(slots, {count: tuple(map(SlotName, chosen)) for count, chosen in (often or {}).items()})


def asked(orders: Iterable[Order], person: Person = IN_A_HOME, **changes: object) -> PlanRequest:
    """The request of the next cycle: each order's product is a small tablet of the name that it has in small letters."""
    told = tuple(orders)
    products = {order.medicine: medicine(order.medicine.capitalize()) for order in told}
    known = {"people": (person,), "rules": rules(), "pairs": pairs(), "spacings": spacings(), **changes}
    return replace(request(told, products.values()), **known)  # type: ignore[arg-type]


def proposal(*orders: Order, person: Person = IN_A_HOME, stay: Iterable[str] = (), **changes: object) -> Proposal:
    return propose(person, asked(orders, person, **changes), time_rules(), [OrderId(order) for order in stay])


def hours(times: Iterable[DosingTime]) -> list[str]:
    return [f"{slot.time:%H:%M}" for slot in times]


def moved(found: Proposal) -> dict[str, list[str]]:
    """Each order that moves, and where to."""
    return {move.order.id: hours(move.proposed) for move in found.moves}


def reasons(found: Proposal) -> dict[str, str | None]:
    """Each order that stays, and the code of what keeps it."""
    return {stays.order: stays.why.code if stays.why else None for stays in found.stays}


def product(name: str, **changes: object) -> Medicine:
    """A small tablet that is not the dull one."""
    return medicine(name, **changes)  # type: ignore[arg-type]


def only_move(found: Proposal) -> Move:
    (move,) = found.moves
    return move
