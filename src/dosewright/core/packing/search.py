"""The search behind `solve`: can the items lie in so many columns? Depth first, largest item first, with counted nodes.

Pruned by: columns that look the same are tried once, items that are the same keep their order, the room still left under every limit
(columns that take no further item count as full), and states that have failed before.
"""

from collections.abc import Sequence

__all__ = ["Search"]

_State = tuple[tuple[int, ...], int]  # a column: what is left under each limit, and the items in it as a bit set


class Search:
    """One problem being searched. `nodes` counts every placing of an item tried; `exhausted` says that the limit was reached.

    `order` is the items' order, hardest to place first."""

    def __init__(self, demands: Sequence[tuple[int, ...]], limits: Sequence[int], clashes: Sequence[int], node_limit: int) -> None:
        self.nodes = 0
        self.exhausted = False
        self._node_limit = node_limit
        self._limits = tuple(limits)
        self.order = sorted(range(len(demands)), key=lambda i: (-_weight(demands[i], clashes[i], limits), i))
        self._demands = [demands[i] for i in self.order]
        self._clashes = [clashes[i] for i in self.order]
        self._same_as_last = [at > 0 and self._alike(at - 1, at) for at in range(len(demands))]
        self._rest = _sums_from_the_end(self._demands, len(limits))
        self._least = _least_from_the_end(self._demands, len(limits))
        self._clashing_later = _unions_from_the_end(self._clashes)

    def _alike(self, one: int, other: int) -> bool:
        a, b = self.order[one], self.order[other]
        same_clashes = self._clashes[one] & ~(1 << b) == self._clashes[other] & ~(1 << a)
        return self._demands[one] == self._demands[other] and same_clashes

    def first_fit(self) -> list[int]:
        """Each item, largest first, into the first column that takes it. Never wrong, seldom far from the fewest."""
        columns: list[_State] = []
        placed = [0] * len(self.order)
        for at, item in enumerate(self.order):
            chosen = next((c for c, column in enumerate(columns) if self._takes(column, at)), len(columns))
            if chosen == len(columns):
                columns.append((self._limits, 0))
            columns[chosen] = self._with(columns[chosen], at)
            placed[item] = chosen
        return placed

    def within(self, count: int) -> list[int] | None:
        """Columns for the items, using at most `count`; None if there are none, or the node limit was reached (`exhausted`)."""
        self._failed: set[tuple[int, tuple[_State, ...]]] = set()
        self._columns: list[_State] = [(self._limits, 0)] * count
        self._placed = [0] * len(self.order)
        if not self._place(0):
            return None
        return [column for _, column in sorted(zip(self.order, self._placed, strict=True))]

    def _place(self, at: int) -> bool:
        if at == len(self.order):
            return True
        if not self._room_for_the_rest(at):
            return False
        state = self._state(at)
        if state in self._failed:
            return False
        if self._try_columns(at):
            return True
        self._failed.add(state)
        return False

    def _try_columns(self, at: int) -> bool:
        tried: set[_State] = set()
        first = self._placed[at - 1] if self._same_as_last[at] else 0
        for chosen in range(first, len(self._columns)):
            column = self._columns[chosen]
            if column in tried or not self._takes(column, at):
                continue
            tried.add(column)
            self.nodes += 1
            if self.nodes > self._node_limit:
                self.exhausted = True
                return False
            self._columns[chosen], self._placed[at] = self._with(column, at), chosen
            if self._place(at + 1):
                return True
            self._columns[chosen] = column
            if self.exhausted:
                return False
        return False

    def _takes(self, column: _State, at: int) -> bool:
        left, members = column
        return not members & self._clashes[at] and all(d <= room for d, room in zip(self._demands[at], left, strict=True))

    def _with(self, column: _State, at: int) -> _State:
        left, members = column
        return tuple(room - d for d, room in zip(self._demands[at], left, strict=True)), members | 1 << self.order[at]

    def _room_for_the_rest(self, at: int) -> bool:
        """Whether the rest fits under each limit's sum, not counting columns with less room than any item of the rest needs."""
        for limit, (rest, least) in enumerate(zip(self._rest[at], self._least[at], strict=True)):
            if rest > sum(left[limit] for left, _ in self._columns if left[limit] >= least):
                return False
        return True

    def _state(self, at: int) -> tuple[int, tuple[_State, ...]]:
        """What matters of the columns for the items still to come: the room, and the members that clash with any of them."""
        later = self._clashing_later[at]
        return at, tuple(sorted((left, members & later) for left, members in self._columns))


def _weight(demand: Sequence[int], clashes: int, limits: Sequence[int]) -> int:
    """Hardest to place first: the greatest share of any limit, and how many it clashes with."""
    shares = (d * 1000 // limit for d, limit in zip(demand, limits, strict=True))
    return max(shares, default=0) + 100 * clashes.bit_count()


def _sums_from_the_end(demands: Sequence[tuple[int, ...]], limits: int) -> list[tuple[int, ...]]:
    sums = [(0,) * limits]
    for demand in reversed(demands):
        sums.append(tuple(a + b for a, b in zip(sums[-1], demand, strict=True)))
    return sums[::-1]


def _least_from_the_end(demands: Sequence[tuple[int, ...]], limits: int) -> list[tuple[int, ...]]:
    """The least demand above zero of the items still to come, under each limit."""
    least = [(1,) * limits]
    known: list[int | None] = [None] * limits
    for demand in reversed(demands):
        known = [d if d and (k is None or d < k) else k for d, k in zip(demand, known, strict=True)]
        least.append(tuple(k or 1 for k in known))
    return least[::-1]


def _unions_from_the_end(clashes: Sequence[int]) -> list[int]:
    unions = [0]
    for mask in reversed(clashes):
        unions.append(unions[-1] | mask)
    return unions[::-1]
