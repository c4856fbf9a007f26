"""Columns that would stay empty, used where that costs no card: dosing times in their fewest columns in, some of them in more out.

Fewest cards come first and are settled before this; a column more is taken only where it is free and strictly betters its dosing time:
fewer pairs of look-alikes in one cavity, then fewer crowded columns. Without such a gain a dosing time keeps the fewest columns, for each
more is one more cavity to open. Source: British Medical Journal 1996;313:926, look-alikes apart, and many tablets do not fit well.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import combinations
from typing import NamedTuple

from dosewright.core.medicines.neighbours import look_alike
from dosewright.core.packing.arrange import arrange
from dosewright.core.packing.columns import LoadColumns, kept_in
from dosewright.core.packing.load import Item
from dosewright.core.packing.request import Places
from dosewright.core.packing.solve import Problem, Solution

__all__ = ["Harm", "harm_of", "use_free_columns"]

_Free = Callable[[list[int]], bool]
# A column is crowded above this share of any limit; four pieces, or four label lines, never are. Proposal of this program.
_CROWDED, _FEW = Fraction(9, 10), 4


class Harm(NamedTuple):
    """Of a dosing time: pairs of look-alikes that meet in a cavity, then columns that are crowded. The less the better."""

    alike: int
    crowded: int


def use_free_columns(solved: Sequence[LoadColumns], weeks: Sequence[Sequence[date]], places: Places, free: _Free) -> list[LoadColumns]:
    """The dosing times, those with the most to better first. `free` says whether so many columns in each week cost no card."""
    now, harm = list(solved), [harm_of(one) for one in solved]
    for at in sorted(range(len(now)), key=lambda at: harm[at], reverse=True):
        while (wider := _better(now[at], harm[at], weeks, places)) and free(_used((*now[:at], wider[0], *now[at + 1 :]), weeks)):
            now[at], harm[at] = wider
    return now


def _used(loads: Sequence[LoadColumns], weeks: Sequence[Sequence[date]]) -> list[int]:
    return [sum(len(one.kept[week].columns) for one in loads) for week in range(len(weeks))]


def _better(one: LoadColumns, harm: Harm, weeks: Sequence[Sequence[date]], places: Places) -> tuple[LoadColumns, Harm] | None:
    """The dosing time with one column more, where that does less harm than now; with the harm that it does."""
    if not any(harm):
        return None
    items, bound = one.load.items, max(one.arranged) + 2
    arranged = arrange(one.problem, Solution(one.arranged, bound, bound, 0), items, one.load.slot, places)
    bounds = [week.lower_bound for week in one.kept]
    wider = replace(one, arranged=arranged, kept=kept_in(items, arranged, weeks, bounds))
    left = harm_of(wider)
    return (wider, left) if left < harm else None


def harm_of(one: LoadColumns) -> Harm:
    """What a column more could better."""
    together = [pair for pair in combinations(range(len(one.arranged)), 2) if one.arranged[pair[0]] == one.arranged[pair[1]]]
    items = one.load.items
    alike = sum(_on_one_day(items[a], items[b]) and look_alike(items[a].medicine, items[b].medicine) for a, b in together)
    return Harm(alike, sum(_crowded(column, one.arranged, one.problem) for column in set(one.arranged)))


def _on_one_day(one: Item, other: Item) -> bool:
    return not one.counts.keys().isdisjoint(other.counts)


def _crowded(column: int, arranged: Sequence[int], problem: Problem) -> bool:
    """Whether the column's items take more than that share of any limit on any day. An item alone cannot be bettered."""
    held = [demand for demand, at in zip(problem.demands, arranged, strict=True) if at == column]
    sums = (sum(needs) for needs in zip(*held, strict=True))
    return len(held) > 1 and any(_FEW < need > limit * _CROWDED for need, limit in zip(sums, problem.limits, strict=True))
