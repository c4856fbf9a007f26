"""One dosing time's load over the cycle: counted doses in series in, items with their amounts on each day out, ready for `solve`.

An item is one medicine, all its orders together. A dose that no cavity can hold is cut into as few full parts as possible, each an item.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from itertools import combinations
from operator import attrgetter

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import forbidding
from dosewright.core.medicines.volume import piece_count, volume_of, volume_of_one
from dosewright.core.packing.placing import UnitSeries
from dosewright.core.packing.plan_values import Content
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.solve import Problem
from dosewright.core.units.ids import MedicineCode, OrderId, SlotName
from dosewright.core.units.quantity import Quantity

__all__ = ["Item", "Load", "loads_of", "problem_on"]

_NOTHING = Fraction(0)
_Amounts = tuple[tuple[OrderId, Fraction], ...]  # what one day asks of one medicine, order by order
_Alike = list[tuple[Sequence[date], _Amounts]]  # days that ask the same, with what they ask


@dataclass(frozen=True, slots=True)
class Item:
    """One medicine, or one part of it: how many units of which orders on which days."""

    medicine: Medicine
    contents: dict[date, tuple[Content, ...]]
    counts: dict[date, Fraction]

    def due_in(self, days: Iterable[date]) -> bool:
        """Whether anything of it is due on any of those days."""
        return not self.counts.keys().isdisjoint(days)


@dataclass(frozen=True, slots=True)
class Load:
    """Everything that one person takes at one dosing time, in catalogue order."""

    slot: SlotName
    time: time
    items: tuple[Item, ...]

    def days(self) -> tuple[date, ...]:
        """The days with something to take, in order."""
        return tuple(sorted(set().union(*[item.counts for item in self.items])))


def loads_of(series: Iterable[UnitSeries], request: PlanRequest) -> tuple[Load, ...]:
    """The doses by dosing time, in the order of the clock."""
    grouped: dict[tuple[time, SlotName], dict[MedicineCode, list[UnitSeries]]] = {}
    for one in series:
        grouped.setdefault((one.time, one.slot), {}).setdefault(one.medicine.code, []).append(one)
    in_order = sorted(grouped.items(), key=lambda entry: (entry[0][0], entry[0][1] or ""))
    return tuple(Load(slot, clock, tuple(_items(found.values(), request))) for (clock, slot), found in in_order)


def _items(by_medicine: Iterable[list[UnitSeries]], request: PlanRequest) -> Iterable[Item]:
    for found in sorted(by_medicine, key=lambda series: (series[0].medicine.label, series[0].medicine.code)):
        yield from _parts(found[0].medicine, _alike(sorted(found, key=_ORDER)), request)


_ORDER = attrgetter("order")


def _parts(medicine: Medicine, left: _Alike, request: PlanRequest) -> Iterable[Item]:
    """As many items as the largest dose needs cavities; each takes what the ones before it could not hold.

    Most days are alike, so each amount is worked out once and shared by its days.
    """
    while left:
        taken = [(days, *_take(amounts, _part_of(_sum(amounts), medicine, request))) for days, amounts in left]
        yield _item(medicine, [(days, part) for days, part, _ in taken])
        left = [(days, rest) for days, _, rest in taken if rest]


def _alike(series: Sequence[UnitSeries]) -> _Alike:
    """What the days ask, order by order; days of the very same series together."""
    if len(series) == 1:
        return [(series[0].days, ((series[0].order, series[0].count),))]
    meeting: dict[date, tuple[int, ...]] = {}
    for at, one in enumerate(series):
        for day in one.days:
            meeting[day] = (*meeting.get(day, ()), at)
    together: dict[tuple[int, ...], list[date]] = {}
    for day, which in meeting.items():
        together.setdefault(which, []).append(day)
    return [(days, tuple((series[at].order, series[at].count) for at in which)) for which, days in together.items()]


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


def _item(medicine: Medicine, parts: _Alike) -> Item:
    contents: dict[date, tuple[Content, ...]] = {}
    counts: dict[date, Fraction] = {}
    for days, part in parts:
        made = tuple([Content(order, medicine.code, Quantity(count, medicine.unit)) for order, count in part])
        contents = contents | dict.fromkeys(days, made) if contents else dict.fromkeys(days, made)
        counts = counts | dict.fromkeys(days, _sum(part)) if counts else dict.fromkeys(days, _sum(part))
    return Item(medicine, contents, counts)


def problem_on(items: Sequence[Item], days: Sequence[date], request: PlanRequest) -> Problem:
    """The packing problem of those items on those days; days with the same contents count once. Conflicts bind on shared days only."""
    patterns = tuple(_patterns(items, days).values())
    demands = tuple(
        [tuple([need for pattern in patterns for need in _needs(item.medicine, pattern[at], request)]) for at, item in enumerate(items)]
    )
    return Problem(demands, _limits(request) * len(patterns), _apart(items, patterns, request))


def _patterns(items: Sequence[Item], days: Sequence[date]) -> dict[tuple[tuple[int, int], ...], tuple[Fraction, ...]]:
    """The amounts of the items on each day, days with the same amounts once."""
    found: dict[tuple[tuple[int, int], ...], tuple[Fraction, ...]] = {}
    for row in _distinct([[item.counts.get(day, _NOTHING) for day in days] for item in items]):
        found.setdefault(tuple([count.as_integer_ratio() for count in row]), row)
    return found


def _distinct(by_item: Sequence[Sequence[Fraction]]) -> Iterable[tuple[Fraction, ...]]:
    """The items' amounts day by day, without days of the very same amounts as another: an item's days mostly share theirs, and an exact
    fraction is slow to look up by."""
    return dict(zip(zip(*[map(id, counts) for counts in by_item], strict=True), zip(*by_item, strict=True), strict=True)).values()


def _needs(medicine: Medicine, count: Fraction, request: PlanRequest) -> tuple[int, ...]:
    if not count:
        return (0, 0, 0) if request.label_lines else (0, 0)
    needs = (volume_of(medicine, count), piece_count(count))
    return (*needs, request.label_lines.needed.get(medicine.code, 0)) if request.label_lines else needs


def _limits(request: PlanRequest) -> tuple[int, ...]:
    limits = (request.format.cavity.usable_volume, request.format.cavity.max_units)
    return (*limits, request.label_lines.room) if request.label_lines else limits


def _apart(items: Sequence[Item], patterns: Iterable[Sequence[Fraction]], request: PlanRequest) -> frozenset[tuple[int, int]]:
    because = forbidding(request.pairs, request.rules)
    clashing = [
        (one, other) for (one, first), (other, second) in combinations(enumerate(items), 2) if because(first.medicine, second.medicine)
    ]
    return frozenset((one, other) for pattern in patterns for one, other in clashing if pattern[one] and pattern[other])
