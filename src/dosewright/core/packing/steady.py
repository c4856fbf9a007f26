"""Columns that keep their places for a whole cycle and cost nothing: a cycle's problem in, a column for each item out, or None.

The fewest columns of the whole cycle may use more of them in some week than that week needs, and so cost a card. This looks for a way to
lay every item in one column for all weeks with no more columns in use in any week than `allowed` says. Depth first with counted nodes;
where the limit is reached the answer is None, and medicines may then change their places between weeks.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from dosewright.core.packing.solve import Problem

__all__ = ["steady_columns"]

_NODE_LIMIT = 20_000
_Column = tuple[tuple[int, ...], int]  # what lies in it under each limit, and in which weeks, as a bit set
_Allowed = Callable[[list[int]], bool]


def steady_columns(problem: Problem, weeks: Sequence[int], count: int, allowed: _Allowed) -> tuple[int, ...] | None:
    """The column of each item, from 0, below `count`. `weeks`: for each item the bit set of weeks in which it is taken.

    `allowed` says whether so many columns in use in each week cost nothing; fewer must then be allowed too.
    """
    order = sorted(range(len(weeks)), key=lambda i: (-weeks[i].bit_count(), -sum(problem.demands[i]), i))
    search = _Search(problem, weeks, order, allowed)
    if not search.place(0, [((0,) * len(problem.limits), 0)] * count):
        return None
    return tuple(search.placed[item] for item in range(len(weeks)))


@dataclass(slots=True)
class _Search:
    problem: Problem
    weeks: Sequence[int]
    order: Sequence[int]
    allowed: _Allowed
    nodes: int = 0
    placed: dict[int, int] = field(default_factory=dict)

    def place(self, at: int, columns: list[_Column]) -> bool:
        if at == len(self.order):
            return True
        item = self.order[at]
        in_use = len(set(self.placed.values()))
        for column in range(min(in_use + 1, len(columns))):  # columns are opened in order: those not yet in use are all the same
            self.nodes += 1
            if self.nodes > _NODE_LIMIT:
                return False
            after = self._with(columns[column], item, column)
            now = [*columns[:column], after, *columns[column + 1 :]] if after else columns
            if after and self.allowed(self._in_use(now)):
                self.placed[item] = column
                if self.place(at + 1, now):
                    return True
                del self.placed[item]
        return False

    def _with(self, column: _Column, item: int, number: int) -> _Column | None:
        held, weeks = column
        sums = tuple(a + b for a, b in zip(held, self.problem.demands[item], strict=True))
        others = (other for other, at in self.placed.items() if at == number)
        clash = any((min(item, other), max(item, other)) in self.problem.apart for other in others)
        fits = not clash and all(total <= limit for total, limit in zip(sums, self.problem.limits, strict=True))
        return (sums, weeks | self.weeks[item]) if fits else None

    def _in_use(self, columns: Sequence[_Column]) -> list[int]:
        weeks = max(self.weeks, default=0).bit_length()
        return [sum(held >> week & 1 for _, held in columns) for week in range(weeks)]
