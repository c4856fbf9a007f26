"""Pouches of a roll: each day's load by itself in, pouches in order of time out. A roll has no columns to keep a place in.

The fewest pouches for each day and dosing time are the fewest for the roll; days with the same contents are solved once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from dosewright.core.packing.arrange import arrange
from dosewright.core.packing.cards import DraftColumn, draft_rolls
from dosewright.core.packing.load import Item, Load, problem_on
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.sharing import keep_together
from dosewright.core.packing.solve import Solution, solve

__all__ = ["RollPacking", "roll_pouches", "strips_of"]

_Packed = tuple[Solution, tuple[tuple[int, ...], ...]]


@dataclass(frozen=True, slots=True)
class RollPacking:
    """The pouches in order of time, and the fewest there can be; the most at one dosing time with its bound; nodes searched."""

    pouches: tuple[DraftColumn, ...]
    fewest: int
    most: int
    most_bound: int
    nodes: int


def roll_pouches(loads: Sequence[Load], request: PlanRequest) -> RollPacking:
    """Pack each day and dosing time by itself."""
    known: dict[tuple[int, tuple[Fraction, ...]], _Packed] = {}
    pouches: list[DraftColumn] = []
    fewest = 0
    for day, at in sorted((day, at) for at, load in enumerate(loads) for day in load.days()):
        pattern = at, tuple(item.counts.get(day, Fraction(0)) for item in loads[at].items)
        if pattern not in known:
            known[pattern] = _pack(loads[at], day, request)
        solution, members = known[pattern]
        fewest += solution.lower_bound
        pouches += _pouches(loads[at], day, members)
    found = [solution for solution, _ in known.values()]
    most, bound, nodes = max(s.count for s in found), max(s.lower_bound for s in found), sum(s.nodes for s in found)
    return RollPacking(tuple(pouches), fewest, most, bound, nodes)


def strips_of(pouches: Sequence[DraftColumn], request: PlanRequest) -> list[list[DraftColumn]]:
    """The pouches of each strip, in order: as many as it takes and as keep together."""
    return draft_rolls(pouches, request.format.columns, lambda together: keep_together(together, request))


def _pack(load: Load, day: date, request: PlanRequest) -> _Packed:
    """The day's solution, and for each pouch the places of its items in the load."""
    due = [at for at, item in enumerate(load.items) if day in item.counts]
    items: list[Item] = [load.items[at] for at in due]
    problem = problem_on(items, (day,), request)
    solution = solve(problem)
    columns = arrange(problem, solution, items, load.slot, {})
    pouches = (tuple(at for at, column in zip(due, columns, strict=True) if column == c) for c in range(solution.count))
    return solution, tuple(pouches)


def _pouches(load: Load, day: date, members: Sequence[tuple[int, ...]]) -> list[DraftColumn]:
    return [
        DraftColumn(load.slot, load.time, (day,), part, len(members), tuple(load.items[at] for at in held))
        for part, held in enumerate(members, start=1)
    ]
