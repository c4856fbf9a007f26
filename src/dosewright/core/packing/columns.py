"""The columns of each week: one dosing time's load in, for each week its columns and what lies in them out, with the bound that proves it.

A medicine keeps its column over the whole cycle where that needs no column more in the fullest week and no card more; else each week has
its own fewest. Source of the rule: a medicine keeps its place, so that a filler lays it once and a reader finds it again.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from dosewright.core.packing.arrange import arrange
from dosewright.core.packing.load import Item, Load, problem_on
from dosewright.core.packing.request import Places, PlanRequest
from dosewright.core.packing.solve import Problem, Solution, solve

__all__ = ["LoadColumns", "WeekColumns", "kept_in", "solve_load", "used_in"]


@dataclass(frozen=True, slots=True)
class WeekColumns:
    """One dosing time in one week: the items of each column, in column order; none of them empty. `lower_bound` for that week."""

    columns: tuple[tuple[Item, ...], ...]
    lower_bound: int


@dataclass(frozen=True, slots=True)
class LoadColumns:
    """One dosing time over the cycle, week by week: kept in place, and each week by itself. `nodes` were searched in all.

    `arranged` is each item's column where it keeps its place, an answer to `problem`, which is the whole cycle's.
    """

    load: Load
    problem: Problem
    arranged: tuple[int, ...]
    kept: tuple[WeekColumns, ...]
    weekly: tuple[WeekColumns, ...]
    nodes: int


def solve_load(load: Load, weeks: Sequence[Sequence[date]], request: PlanRequest, places: Places) -> LoadColumns:
    """Pack the dosing time for the whole cycle at once, and each week by itself where the whole is more than one column."""
    packer = _Packer(load, request, places)
    problem = packer.problem(load.items, load.days())
    whole, arranged = packer.pack(load.items, problem)
    weekly = tuple([_week_alone(load, week, packer, whole) for week in weeks])
    kept = kept_in(load.items, arranged, weeks, [found.lower_bound for found in weekly]) if whole.count > 1 else weekly
    return LoadColumns(load, problem, arranged, kept, weekly, packer.nodes)


def kept_in(
    items: Sequence[Item], arranged: Sequence[int], weeks: Sequence[Sequence[date]], bounds: Sequence[int]
) -> tuple[WeekColumns, ...]:
    """Each week's columns where every item keeps the column that `arranged` gives it. `bounds`: each week's lower bound."""
    return tuple(WeekColumns(used_in(items, arranged, week), bound) for week, bound in zip(weeks, bounds, strict=True))


class _Packer:
    """Solves and arranges runs of days of one load; weeks that ask for the same are solved once."""

    def __init__(self, load: Load, request: PlanRequest, places: Places) -> None:
        self._slot, self._request, self._places = load.slot, request, places
        self._known: dict[tuple[tuple[int, ...], Problem], tuple[Solution, tuple[int, ...]]] = {}

    @property
    def nodes(self) -> int:
        """Nodes searched in all."""
        return sum(solution.nodes for solution, _ in self._known.values())

    def problem(self, items: Sequence[Item], days: Sequence[date]) -> Problem:
        """What packing those items on those days asks."""
        return problem_on(items, days, self._request)

    def pack(self, items: Sequence[Item], problem: Problem) -> tuple[Solution, tuple[int, ...]]:
        """The fewest columns for those items, and each item's column among them."""
        key = tuple(map(id, items)), problem
        if (known := self._known.get(key)) is None:  # looked up once: a problem is hundreds of whole numbers
            solution = solve(problem)
            known = self._known[key] = solution, arrange(problem, solution, items, self._slot, self._places)
        return known


def _week_alone(load: Load, week: Sequence[date], packer: _Packer, whole: Solution) -> WeekColumns:
    """The week's own fewest. One column for the whole cycle is one for each week: nothing to search."""
    items = tuple([item for item in load.items if item.due_in(week)])
    if whole.count <= 1:
        return WeekColumns((items,) if items else (), min(1, len(items)))
    found, arranged = packer.pack(items, packer.problem(items, week))
    return WeekColumns(used_in(items, arranged, week), found.lower_bound)


def used_in(items: Sequence[Item], arranged: Sequence[int], week: Sequence[date]) -> tuple[tuple[Item, ...], ...]:
    """The items of each column that holds anything that week, in column order."""
    due = [(column, item) for item, column in zip(items, arranged, strict=True) if item.due_in(week)]
    return tuple([tuple([item for at, item in due if at == column]) for column in sorted({at for at, _ in due})])
