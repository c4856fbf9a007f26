"""The fewest dosing times, then the least cost, and the proof: whole numbers in, one option for each order out.

An order has options, each a set of dosing times (bits) with a cost; options of two orders may clash. Sets of dosing times are tried from
the smallest on, so that the first number with an answer is the fewest; among all sets of that number the least cost is found, and
everything that costs as little. The search is limited by counted nodes and never by time: the same question always has the same answer.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

__all__ = ["MOST_TIED", "NODE_LIMIT", "Chosen", "Option", "Question", "choose"]

NODE_LIMIT = 200_000  # nodes of one question; a person with a dozen orders and eight dosing times needs some hundreds
MOST_TIED = 64  # equally good answers that are kept to be told apart by what this search does not know

_Cost = tuple[int, int]
_FREE: _Cost = (0, 0)


@dataclass(frozen=True, slots=True)
class Option:
    """Dosing times as bits, and what choosing them costs: doses moved, then minutes moved."""

    times: int
    cost: _Cost = _FREE


@dataclass(frozen=True, slots=True)
class Question:
    """`orders[i]` are order i's options, at least one each. `clashes` holds ((i, a), (j, b)), i < j: not option a of i with b of j."""

    orders: tuple[tuple[Option, ...], ...]
    clashes: frozenset[tuple[tuple[int, int], tuple[int, int]]] = frozenset()

    def __post_init__(self) -> None:
        if not all(self.orders) or any(option.times <= 0 for options in self.orders for option in options):
            raise ValueError("every order needs an option, and every option a dosing time")


@dataclass(frozen=True, slots=True)
class Chosen:
    """`answers` are all that cost as little, each an option for each order, in canonical order; none where nothing satisfies every clash.

    No answer has fewer dosing times than `lower_bound`. `proved`: the search came to its end, so `count` is the fewest and `cost` the
    least. `all_tied`: `answers` are all there are.
    """

    answers: tuple[tuple[int, ...], ...]
    count: int
    lower_bound: int
    cost: _Cost
    nodes: int
    proved: bool
    all_tied: bool


@dataclass(slots=True)
class _Best:
    """The best found with this number of dosing times."""

    cost: _Cost | None = None
    answers: list[tuple[int, ...]] = field(default_factory=list)

    def beaten_by(self, cost: _Cost) -> bool:
        """Whether an answer of that cost is wanted: a better one always, an equal one until enough are kept."""
        return self.cost is None or cost < self.cost or (cost == self.cost and len(self.answers) <= MOST_TIED)

    def add(self, cost: _Cost, answer: tuple[int, ...]) -> None:
        if self.cost is None or cost < self.cost:
            self.cost, self.answers = cost, []
        self.answers.append(answer)


class _Exhausted(Exception):
    """The node limit is reached."""


def choose(question: Question, node_limit: int = NODE_LIMIT) -> Chosen:
    """The fewest dosing times and the least cost, proved; or the best found within `node_limit` nodes with the bound that stands."""
    search = _Search(question, node_limit)
    if not question.orders:
        return Chosen(((),), 0, 0, _FREE, 0, proved=True, all_tied=True)
    for count in range(search.lowest, search.every.bit_count() + 1):
        best = _Best()
        proved = search.within(count, best)
        if best.answers or not proved:
            return _chosen(best, count, search, proved=proved)
    return Chosen((), 0, 0, _FREE, search.nodes, proved=True, all_tied=True)


def _chosen(best: _Best, count: int, search: "_Search", *, proved: bool) -> Chosen:
    tied = sorted(best.answers)
    found = count if tied else 0
    return Chosen(tuple(tied[:MOST_TIED]), found, count, best.cost or _FREE, search.nodes, proved, proved and len(tied) <= MOST_TIED)


class _Search:
    """Sets of so many dosing times, each searched for the least cost."""

    def __init__(self, question: Question, node_limit: int) -> None:
        self._orders, self._limit, self.nodes = question.orders, node_limit, 0
        self._clash: dict[tuple[int, int], list[tuple[int, int]]] = {}
        for one, other in question.clashes:
            self._clash.setdefault(one, []).append(other)
            self._clash.setdefault(other, []).append(one)
        self.every, self._always = 0, 0
        for options in self._orders:
            shared = -1
            for option in options:
                self.every |= option.times
                shared &= option.times
            self._always |= shared
        widest = max((min(option.times.bit_count() for option in options) for options in self._orders), default=0)
        self.lowest = max(self._always.bit_count(), widest)

    def within(self, count: int, best: _Best) -> bool:
        """Fill `best` with the least cost over every set of `count` dosing times. False where the limit ended it."""
        try:
            for times in self._sets_of(count):
                self._count_node()
                allowed = [[at for at, option in enumerate(options) if option.times & ~times == 0] for options in self._orders]
                if all(allowed):
                    self._place(allowed, {}, _FREE, best)
        except _Exhausted:
            return False
        return True

    def _sets_of(self, count: int) -> Iterator[int]:
        """Every set of that size that holds what no option does without."""
        free = [1 << bit for bit in range(self.every.bit_length()) if (self.every & ~self._always) >> bit & 1]
        for chosen in combinations(free, count - self._always.bit_count()):
            yield self._always | sum(chosen)

    def _count_node(self) -> None:
        self.nodes += 1
        if self.nodes > self._limit:
            raise _Exhausted

    def _place(self, allowed: Sequence[list[int]], chosen: dict[int, int], cost: _Cost, best: _Best) -> None:
        """Give the order with the fewest options left each of them in turn, the cheapest first."""
        self._count_node()
        if not best.beaten_by(self._at_least(allowed, chosen, cost)):
            return
        left = [order for order in range(len(allowed)) if order not in chosen]
        if not left:
            best.add(cost, tuple(chosen[order] for order in range(len(allowed))))
            return
        order = min(left, key=lambda order: (len(allowed[order]), order))
        for option in sorted(allowed[order], key=lambda option: (self._orders[order][option].cost, option)):
            rest = self._without_clashes(allowed, order, option)
            if rest is not None:
                self._place(rest, {**chosen, order: option}, _plus(cost, self._orders[order][option].cost), best)

    def _at_least(self, allowed: Sequence[list[int]], chosen: dict[int, int], cost: _Cost) -> _Cost:
        for order, options in enumerate(allowed):
            if order not in chosen:
                cost = _plus(cost, min(self._orders[order][option].cost for option in options))
        return cost

    def _without_clashes(self, allowed: Sequence[list[int]], order: int, option: int) -> list[list[int]] | None:
        """What is left to the others beside that option; None where some order has nothing left."""
        rest = list(allowed)
        rest[order] = [option]
        for other, barred in self._clash.get((order, option), ()):
            if barred in rest[other]:
                rest[other] = [one for one in rest[other] if one != barred]
                if not rest[other]:
                    return None
        return rest


def _plus(one: _Cost, other: _Cost) -> _Cost:
    return one[0] + other[0], one[1] + other[1]
