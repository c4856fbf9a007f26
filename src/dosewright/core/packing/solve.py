"""The fewest columns that hold a dosing time's medicines, and the proof: whole numbers in, a column for each item out.

An item has a demand under each limit (volume, pieces, label lines, each on each day that differs); no column may exceed a limit; some
items may not share a column. The answer is exact: search from a lower bound upwards, limited by counted nodes and never by time, so
the same problem always has the same answer. When the limit is reached, the best found is returned with the bound that stands.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dosewright.core.packing.bounds import clique_size, reduce_limits, rounded_bound, summed_bound
from dosewright.core.packing.completion import Completion
from dosewright.core.packing.search import Search

__all__ = ["NODE_LIMIT", "Problem", "Solution", "solve"]

# Nodes of one search. Measured: every crowded family of two to four columns ended within it (docs/packing.md).
NODE_LIMIT = 300_000
_FIRST_NODES = 500  # of these for placing item by item, which is quicker where many fit a column; the rest for filling column by column


@dataclass(frozen=True, slots=True)
class Problem:
    """`demands[i][l]` is item i's demand under limit l. `apart` holds pairs (i, j), i < j, that may not share a column.

    Raises ValueError for an item that exceeds a limit all by itself.
    """

    demands: tuple[tuple[int, ...], ...]
    limits: tuple[int, ...]
    apart: frozenset[tuple[int, int]] = frozenset()

    def __post_init__(self) -> None:
        for item, demand in enumerate(self.demands):
            if len(demand) != len(self.limits) or any(d > limit for d, limit in zip(demand, self.limits, strict=True)):
                raise ValueError(f"item {item} does not fit a column by itself")


@dataclass(frozen=True, slots=True)
class Solution:
    """`columns[i]` is item i's column, from 0. No packing needs fewer than `lower_bound`; where it equals `count` that is the proof."""

    columns: tuple[int, ...]
    count: int
    lower_bound: int
    nodes: int

    @property
    def optimal(self) -> bool:
        """Whether fewer columns are proved impossible."""
        return self.count == self.lower_bound


def solve(problem: Problem, node_limit: int = NODE_LIMIT) -> Solution:
    """The fewest columns, proved, or the best found within `node_limit` nodes with the bound."""
    if not problem.demands:
        return Solution((), 0, 0, 0)
    demands, limits = reduce_limits(problem.demands, problem.limits)
    if not limits and not problem.apart:
        return Solution((0,) * len(demands), 1, 1, 0)
    return _search(demands, limits, _clashes(demands, limits, problem.apart), node_limit)


def _clashes(demands: Sequence[tuple[int, ...]], limits: Sequence[int], apart: Iterable[tuple[int, int]]) -> list[int]:
    """For each item the bit set of items that cannot share its column: kept apart, or too much together."""
    masks = [0] * len(demands)
    for one, other in apart:
        masks[one] |= 1 << other
        masks[other] |= 1 << one
    for one, demand in enumerate(demands):
        for other in range(one):
            if any(a + b > limit for a, b, limit in zip(demand, demands[other], limits, strict=True)):
                masks[one] |= 1 << other
                masks[other] |= 1 << one
    return masks


def _search(demands: Sequence[tuple[int, ...]], limits: Sequence[int], clashes: Sequence[int], node_limit: int) -> Solution:
    search = Search(demands, limits, clashes, min(node_limit, _FIRST_NODES))
    best = search.first_fit()
    count = max(best) + 1
    bound = max(1, summed_bound(demands, limits), clique_size(clashes))
    if bound < count:
        bound = max(bound, rounded_bound(demands, limits))
    tries: list[Search | Completion] = [search]
    found: list[int] | None = None
    while bound < count:
        found = tries[-1].within(bound)
        if found is None and search.exhausted and len(tries) == 1:
            tries.append(Completion(demands, limits, clashes, search.order, node_limit - search.nodes))
            found = tries[-1].within(bound)
        if found is not None or tries[-1].exhausted:
            break
        bound += 1
    nodes = sum(one.nodes for one in tries)
    if bound < count and found is not None:
        return Solution(tuple(found), bound, bound, nodes)
    return Solution(tuple(best), count, bound, nodes)
