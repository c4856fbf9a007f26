"""Bounds that prove how few columns there can be, and the limits that matter: demands and limits in, whole numbers out."""

from collections.abc import Sequence

__all__ = ["clique_size", "reduce_limits", "rounded_bound", "summed_bound"]


def reduce_limits(demands: Sequence[tuple[int, ...]], limits: Sequence[int]) -> tuple[list[tuple[int, ...]], list[int]]:
    """Only the limits that can bind: those that all items together exceed, each once, none that another always implies."""
    kept: list[tuple[tuple[int, ...], int]] = []
    exceeded = [at for at, need in enumerate(zip(*demands, strict=True)) if sum(need) > limits[at]]
    binding = dict.fromkeys((tuple([d[at] for d in demands]), limits[at]) for at in exceeded)
    for need, limit in sorted(binding, key=lambda pair: -(sum(pair[0]) * 1_000_000 // pair[1])):
        if not any(_implies(harder, room, need, limit) for harder, room in kept):
            kept.append((need, limit))
    rows: list[tuple[int, ...]] = [tuple([need[item] for need, _ in kept]) for item in range(len(demands))]
    return rows, [limit for _, limit in kept]


def _implies(harder: Sequence[int], room: int, need: Sequence[int], limit: int) -> bool:
    """Whether whoever keeps the harder limit keeps the other: every item takes at least as great a share of it."""
    return all(h * limit >= n * room for h, n in zip(harder, need, strict=True))


def summed_bound(demands: Sequence[tuple[int, ...]], limits: Sequence[int]) -> int:
    """No fewer columns than each limit's sum needs."""
    return max((-(-sum(d[at] for d in demands) // limit) for at, limit in enumerate(limits)), default=1)


_ROUNDINGS = 12


def rounded_bound(demands: Sequence[tuple[int, ...]], limits: Sequence[int]) -> int:
    """A bound that sees that more than k of what takes over a (k+1)th cannot lie together, though their sum would.

    Each need is rounded to kths of the limit such that whatever lies together still sums to one at most (a dual feasible function).
    Source: S. P. Fekete, J. Schepers, New classes of fast lower bounds for bin packing problems, 2001 (from memory; each bound is tested
    against exact packings).
    """
    bounds = (_rounded(demands, at, limit, k) for at, limit in enumerate(limits) for k in range(1, _ROUNDINGS + 1))
    return max(bounds, default=1)


def _rounded(demands: Sequence[tuple[int, ...]], at: int, limit: int, k: int) -> int:
    """The sum of the rounded needs in kths of a column, in whole columns. A need of exactly some (k+1)ths stays what it is."""
    total = 0  # in parts of limit × k
    for demand in demands:
        times, rest = divmod(demand[at] * (k + 1), limit)
        total += demand[at] * k if not rest else times * limit
    return -(-total // (limit * k))


def clique_size(clashes: Sequence[int]) -> int:
    """The size of a set of items that all clash with each other, found greedily from each item: each needs a column of its own."""
    return max((_grown(start, clashes) for start in range(len(clashes))), default=0)


def _grown(start: int, clashes: Sequence[int]) -> int:
    size, left = 1, clashes[start]
    while left:
        size += 1
        left &= clashes[_busiest(left, clashes)]
    return size


def _busiest(among: int, clashes: Sequence[int]) -> int:
    items = (at for at in range(among.bit_length()) if among >> at & 1)
    return max(items, key=lambda at: ((clashes[at] & among).bit_count(), -at))
