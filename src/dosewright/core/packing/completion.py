"""The same question as `search`, asked column by column: which items lie together with the hardest one that is left?

Only sets that nothing more fits into need trying: whatever holds with fewer in a column holds with more. Items that are left and cannot lie
in the columns that are left fail once, however the columns before them were filled: that is what makes short work of the cases where few
items fill a column, which placing item by item finds hardest. Source of the idea: bin completion, R. Korf, 2002 (from memory).
"""

from collections.abc import Iterator, Sequence

__all__ = ["Completion"]

_Room = tuple[int, ...]


class Completion:
    """One problem being searched. `order`: its items, hardest to place first. `nodes` counts every item laid beside others."""

    def __init__(
        self, demands: Sequence[_Room], limits: Sequence[int], clashes: Sequence[int], order: Sequence[int], node_limit: int
    ) -> None:
        self.nodes = 0
        self.exhausted = False
        self._node_limit = node_limit
        self._order, self._limits = order, tuple(limits)
        self._demands = [demands[item] for item in order]
        self._clashes = [sum(1 << at for at, other in enumerate(order) if clashes[item] >> other & 1) for item in order]
        self._failed: dict[int, int] = {}  # items left → columns that were not enough for them

    def within(self, count: int) -> list[int] | None:
        """A column for each item, using at most `count`; None if there is none, or the node limit was reached (`exhausted`)."""
        columns = self._fill((1 << len(self._demands)) - 1, count)
        if columns is None:
            return None
        at = {item: column for column, members in enumerate(columns) for place, item in enumerate(self._order) if members >> place & 1}
        return [at[item] for item in range(len(self._order))]

    def _fill(self, left: int, count: int) -> list[int] | None:
        if not left:
            return []
        if self._failed.get(left, 0) >= count or self._least(left) > count:
            return None
        for members in self._full_columns(left):
            rest = self._fill(left & ~members, count - 1)
            if rest is not None:
                return [members, *rest]
            if self.exhausted:
                return None
        self._failed[left] = count
        return None

    def _least(self, left: int) -> int:
        """No fewer columns than each limit's sum needs, nor than as many items as fit at most into each."""
        held = [demand for at, demand in enumerate(self._demands) if left >> at & 1]
        return max((_least_for([demand[at] for demand in held], limit) for at, limit in enumerate(self._limits)), default=1)

    def _full_columns(self, left: int) -> Iterator[int]:
        """Every set with the hardest item that is left which takes no further item, sets with harder items first."""
        first = (left & -left).bit_length() - 1
        others = [at for at in range(first + 1, len(self._demands)) if left >> at & 1 and not self._clashes[first] >> at & 1]
        room = tuple(limit - need for limit, need in zip(self._limits, self._demands[first], strict=True))
        return self._grow(1 << first, room, others, [])

    def _grow(self, members: int, room: _Room, others: Sequence[int], passed: Sequence[int]) -> Iterator[int]:
        """`members` with some of `others`; `passed` were left out, and would have to be taken if they still fit at the end."""
        for place, item in enumerate(others):
            if self.exhausted:
                return
            if self._fits(item, members, room):
                self.nodes += 1
                if self.nodes > self._node_limit:
                    self.exhausted = True
                    return
                less = tuple(space - need for space, need in zip(room, self._demands[item], strict=True))
                yield from self._grow(members | 1 << item, less, others[place + 1 :], passed)
                passed = [*passed, item]
        if not any(self._fits(item, members, room) for item in passed):
            yield members

    def _fits(self, item: int, members: int, room: _Room) -> bool:
        return not members & self._clashes[item] and all(need <= space for need, space in zip(self._demands[item], room, strict=True))


def _least_for(needs: list[int], limit: int) -> int:
    """Columns that one limit makes necessary: by the sum, and by how many of the smallest fill one."""
    needs.sort()
    most = total = 0
    for need in needs:
        total += need
        if total > limit:
            break
        most += 1
    return max(-(-sum(needs) // limit), -(-len(needs) // most))
