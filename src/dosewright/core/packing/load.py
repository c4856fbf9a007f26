"""One dosing time's load over the cycle: counted doses in, items with their amounts on each day out, ready for `solve`.

An item is one medicine, all its orders together. A dose that no cavity can hold is cut into as few full parts as possible, each an item.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from itertools import groupby
from operator import attrgetter

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import apart_because
from dosewright.core.medicines.volume import piece_count, volume_of, volume_of_one
from dosewright.core.packing.placing import UnitDose
from dosewright.core.packing.plan_values import Content
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.solve import Problem
from dosewright.core.units.ids import MedicineCode, OrderId, SlotName
from dosewright.core.units.quantity import Quantity

__all__ = ["Item", "Load", "loads_of", "problem_on"]

_NOTHING = Fraction(0)
_Amounts = tuple[tuple[OrderId, Fraction], ...]  # what one day asks of one medicine, order by order
_Key = tuple[tuple[OrderId, int, int], ...]


@dataclass(frozen=True, slots=True)
class Item:
    """One medicine, or one part of it: how many units of which orders on which days."""

    medicine: Medicine
    contents: dict[date, tuple[Content, ...]]
    counts: dict[date, Fraction]


@dataclass(frozen=True, slots=True)
class Load:
    """Everything that one person takes at one dosing time, in catalogue order."""

    slot: SlotName
    time: time
    items: tuple[Item, ...]

    def days(self) -> tuple[date, ...]:
        """The days with something to take, in order."""
        return tuple(sorted({day for item in self.items for day in item.counts}))


def loads_of(doses: Iterable[UnitDose], request: PlanRequest) -> tuple[Load, ...]:
    """The doses by dosing time, in the order of the clock."""
    grouped: dict[tuple[time, SlotName], dict[MedicineCode, list[UnitDose]]] = {}
    for dose in doses:
        grouped.setdefault((dose.time, dose.slot), {}).setdefault(dose.medicine.code, []).append(dose)
    in_order = sorted(grouped.items(), key=lambda entry: (entry[0][0], entry[0][1] or ""))
    return tuple(Load(slot, clock, tuple(_items(found.values(), request))) for (clock, slot), found in in_order)


def _items(by_medicine: Iterable[list[UnitDose]], request: PlanRequest) -> Iterable[Item]:
    for found in sorted(by_medicine, key=lambda doses: (doses[0].medicine.label, doses[0].medicine.code)):
        yield from _parts(sorted(found, key=_ORDER_AND_DAY), request)


_ORDER_AND_DAY = attrgetter("order", "day")


def _parts(doses: Sequence[UnitDose], request: PlanRequest) -> Iterable[Item]:
    """As many items as the largest dose needs cavities; each takes what the ones before it could not hold.

    Most days are alike, so each amount is worked out once and shared by its days.
    """
    medicine = doses[0].medicine
    left = _amounts_by_day(doses)
    while left:
        objects = {id(amounts): amounts for amounts in left.values()}
        known = {one: _key(amounts) for one, amounts in objects.items()}
        keys = {day: known[id(amounts)] for day, amounts in left.items()}
        alike = {known[one]: amounts for one, amounts in objects.items()}
        taken = {key: _take(amounts, _part_of(_sum(amounts), medicine, request)) for key, amounts in alike.items()}
        yield _item(medicine, {key: part for key, (part, _) in taken.items()}, keys)
        left = {day: rest for day, key in keys.items() if (rest := taken[key][1])}


def _amounts_by_day(doses: Sequence[UnitDose]) -> dict[date, _Amounts]:
    """What each day asks, order by order. Days that ask the same of one order share their amounts."""
    left: dict[date, _Amounts] = {}
    for (order, count), found in groupby(doses, key=_ORDER_AND_COUNT):
        amounts = ((order, count),)
        for dose in found:
            left[dose.day] = (*left[dose.day], *amounts) if dose.day in left else amounts
    return left


_ORDER_AND_COUNT = attrgetter("order", "count")


def _key(amounts: _Amounts) -> _Key:
    """What the amounts are known by: whole numbers, for an exact fraction is slow to look up by."""
    return tuple((order, count.numerator, count.denominator) for order, count in amounts)


def _sum(amounts: _Amounts) -> Fraction:
    return amounts[0][1] if len(amounts) == 1 else sum((count for _, count in amounts), _NOTHING)


def _part_of(count: Fraction, medicine: Medicine, request: PlanRequest) -> Fraction:
    """All of it where one cavity of its own can hold it; else the most whole units, with what is broken or without, that one holds.

    No unit is broken that the dose does not break anyhow. `placing` has made sure that one unit fits.
    """
    cavity, whole = request.format.cavity, volume_of_one(medicine)
    if volume_of(medicine, count) <= cavity.usable_volume and piece_count(count) <= cavity.max_units:
        return count
    broken = count % 1
    for units in range(min(int(count), cavity.max_units, cavity.usable_volume // whole), 0, -1):
        for part in (units + broken, Fraction(units)):
            if volume_of(medicine, part) <= cavity.usable_volume and piece_count(part) <= cavity.max_units:
                return part
    return broken if piece_count(broken) <= cavity.max_units else Fraction(1, 2)


def _take(amounts: _Amounts, part: Fraction) -> tuple[_Amounts, _Amounts]:
    """So much from the orders in turn, and what is left of them."""
    if len(amounts) == 1 and amounts[0][1] is part:
        return amounts, ()
    now: list[tuple[OrderId, Fraction]] = []
    rest: list[tuple[OrderId, Fraction]] = []
    for order, count in amounts:
        taken = min(count, part)
        part -= taken
        now += [(order, taken)] if taken else []
        rest += [(order, count - taken)] if count > taken else []
    return tuple(now), tuple(rest)


def _item(medicine: Medicine, parts: dict[_Key, _Amounts], days: dict[date, _Key]) -> Item:
    made = {key: tuple(Content(o, medicine.code, Quantity(c, medicine.unit)) for o, c in part) for key, part in parts.items()}
    sums = {key: _sum(part) for key, part in parts.items()}
    return Item(medicine, {day: made[key] for day, key in days.items()}, {day: sums[key] for day, key in days.items()})


def problem_on(items: Sequence[Item], days: Sequence[date], request: PlanRequest) -> Problem:
    """The packing problem of those items on those days; days with the same contents count once. Conflicts bind on shared days only."""
    patterns = tuple(_patterns(items, days).values())
    demands = tuple(
        tuple(need for pattern in patterns for need in _needs(item.medicine, pattern[at], request)) for at, item in enumerate(items)
    )
    return Problem(demands, _limits(request) * len(patterns), _apart(items, patterns, request))


def _patterns(items: Sequence[Item], days: Sequence[date]) -> dict[tuple[tuple[int, int], ...], tuple[Fraction, ...]]:
    """The amounts of the items on each day, days with the same amounts once."""
    found: dict[tuple[tuple[int, int], ...], tuple[Fraction, ...]] = {}
    for counts in _distinct(zip(*[[item.counts.get(day, _NOTHING) for day in days] for item in items], strict=True)):
        found.setdefault(tuple(count.as_integer_ratio() for count in counts), counts)
    return found


def _distinct(rows: Iterable[tuple[Fraction, ...]]) -> Iterable[tuple[Fraction, ...]]:
    """Without rows of the very same amounts as another: an item's days mostly share theirs, and an exact fraction is slow to look up by."""
    return {tuple(map(id, row)): row for row in rows}.values()


def _needs(medicine: Medicine, count: Fraction, request: PlanRequest) -> tuple[int, ...]:
    if not count:
        return (0, 0, 0) if request.label_lines else (0, 0)
    needs = (volume_of(medicine, count), piece_count(count))
    return (*needs, request.label_lines.needed.get(medicine.code, 0)) if request.label_lines else needs


def _limits(request: PlanRequest) -> tuple[int, ...]:
    limits = (request.format.cavity.usable_volume, request.format.cavity.max_units)
    return (*limits, request.label_lines.room) if request.label_lines else limits


def _apart(items: Sequence[Item], patterns: Iterable[Sequence[Fraction]], request: PlanRequest) -> frozenset[tuple[int, int]]:
    clashing = {
        (one, other)
        for other, second in enumerate(items)
        for one, first in enumerate(items[:other])
        if apart_because(first.medicine, second.medicine, request.pairs, request.rules)
    }
    together = {(one, other) for pattern in patterns for one, other in clashing if pattern[one] and pattern[other]}
    return frozenset(together)
