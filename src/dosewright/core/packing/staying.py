"""Which medicines keep their columns for the whole cycle: solved dosing times in, each with the columns of every week out.

A place is kept wherever that costs neither a card nor a column in the fullest week. Where a dosing time cannot keep all of its places so,
its weeks have their own fewest columns, arranged after the week before, so that a medicine moves only where it must.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from dosewright.core.packing.arrange import arrange
from dosewright.core.packing.columns import LoadColumns, WeekColumns, kept_in, used_in
from dosewright.core.packing.load import problem_on
from dosewright.core.packing.request import Places, PlanRequest
from dosewright.core.packing.solve import Solution
from dosewright.core.packing.steady import steady_columns

__all__ = ["CountCards", "settle_weeks"]

_Weeks = Sequence[Sequence[date]]
CountCards = Callable[[Sequence[int]], int]


def settle_weeks(
    solved: Sequence[LoadColumns], weeks: _Weeks, cards: CountCards, request: PlanRequest, places: Places
) -> tuple[list[LoadColumns], bool]:
    """The dosing times, each with its columns of every week in `kept`; and whether all medicines keep their places.

    `cards` says how many cards so many columns in each week take; more columns never take fewer.
    One dosing time after the other is judged beside the others' fewest, so that what is found costs nothing; it is not proved that no
    more of them could keep their places.
    """
    settled, stay = list(solved), True
    for at, one in enumerate(solved):
        beside = _Beside([*settled[:at], *solved[at + 1 :]], at, weeks, cards)
        fewest = [len(found.columns) for found in one.weekly]
        if beside.free([len(found.columns) for found in one.kept], fewest):
            continue
        other = _other_way(one, weeks, beside, fewest)
        stay = stay and other is not None
        settled[at] = other or replace(one, kept=_followed(one, weeks, request, places))
    return settled, stay


class _Beside:
    """The other dosing times: those before as they are settled, those after at their fewest."""

    def __init__(self, others: Sequence[LoadColumns], settled: int, weeks: _Weeks, cards: CountCards) -> None:
        found = [one.kept if at < settled else one.weekly for at, one in enumerate(others)]
        self._others = [sum(len(columns[week].columns) for columns in found) for week in range(len(weeks))]
        self._cards = cards

    def free(self, used: Sequence[int], fewest: Sequence[int]) -> bool:
        """Whether so many columns in each week cost neither a card nor a column in the fullest week, against the fewest."""
        mine, least = self._with(used), self._with(fewest)
        return self._cards(mine) <= self._cards(least) and max(mine) <= max(least)

    def _with(self, used: Sequence[int]) -> list[int]:
        return [other + (used[week] if week < len(used) else 0) for week, other in enumerate(self._others)]


def _other_way(one: LoadColumns, weeks: _Weeks, beside: _Beside, fewest: Sequence[int]) -> LoadColumns | None:
    """The dosing time with every medicine in one column for good, where some way to do so costs nothing."""
    items = one.load.items
    taken = [sum(1 << at for at, week in enumerate(weeks) if item.due_in(week)) for item in items]
    columns = steady_columns(one.problem, taken, len(items), lambda used: beside.free(used, fewest))
    if columns is None:
        return None
    return replace(one, arranged=columns, kept=kept_in(items, columns, weeks, [found.lower_bound for found in one.weekly]))


def _followed(one: LoadColumns, weeks: _Weeks, request: PlanRequest, places: Places) -> tuple[WeekColumns, ...]:
    """Each week by itself, in its fewest columns, arranged after the week before."""
    before, slot = dict(places), one.load.slot
    found: list[WeekColumns] = []
    for week, alone in zip(weeks, one.weekly, strict=True):
        at = {id(item): column for column, held in enumerate(alone.columns) for item in held}
        items = tuple(item for item in one.load.items if id(item) in at)
        solution = Solution(tuple(at[id(item)] for item in items), len(alone.columns), alone.lower_bound, 0)
        arranged = arrange(problem_on(items, week, request), solution, items, slot, before)
        found.append(WeekColumns(used_in(items, arranged, week), alone.lower_bound))
        before |= {(slot, item.medicine.code): column + 1 for item, column in zip(items, arranged, strict=True)}
    return tuple(found)
