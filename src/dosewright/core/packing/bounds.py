"""Bounds that prove how few columns there can be, and the limits that matter: demands and limits in, whole numbers out."""

from collections.abc import Sequence

__all__ = ["clique_size", "reduce_limits", "summed_bound"]


def reduce_limits(demands: Sequence[tuple[int, ...]], limits: Sequence[int]) -> tuple[list[tuple[int, ...]], list[int]]:
    """Only the limits that can bind: those that all items together exceed, each once, none that another always implies."""
    kept: list[tuple[tuple[int, ...], int]] = []
    columns = dict.fromkeys((tuple(d[at] for d in demands), limit) for at, limit in enumerate(limits))
    binding = [(need, limit) for need, limit in columns if sum(need) > limit]
    for need, limit in sorted(binding, key=lambda pair: -(sum(pair[0]) * 1_000_000 // pair[1])):
        if not any(_implies(harder, room, need, limit) for harder, room in kept):
            kept.append((need, limit))
    rows: list[tuple[int, ...]] = [tuple(need[item] for need, _ in kept) for item in range(len(demands))]
    return rows, [limit for _, limit in kept]


def _implies(harder: Sequence[int], room: int, need: Sequence[int], limit: int) -> bool:
    """Whether whoever keeps the harder limit keeps the other: every item takes at least as great a share of it."""
    return all(h * limit >= n * room for h, n in zip(harder, need, strict=True))


def summed_bound(demands: Sequence[tuple[int, ...]], limits: Sequence[int]) -> int:
    """No fewer columns than each limit's sum needs."""
    return max((-(-sum(d[at] for d in demands) // limit) for at, limit in enumerate(limits)), default=1)


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
