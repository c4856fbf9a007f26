"""Among packings with the same number of columns, the better one: look-alikes apart, places kept, medicines spread, catalogue order.

A solved problem in, a column for each item out; never more columns than were solved for, every limit kept. Improvement is by moving or
swapping items while that makes the packing strictly better: deterministic, and not proved to be the best of its kind.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations

from dosewright.core.medicines.neighbours import look_alike
from dosewright.core.packing.load import Item
from dosewright.core.packing.request import Places
from dosewright.core.packing.solve import Problem, Solution
from dosewright.core.units.ids import SlotName

__all__ = ["arrange"]

_Cost = tuple[int, int, int, tuple[int, ...]]
_ROUNDS = 50  # improvements of one packing; each is strictly better, so that few are ever needed


def arrange(problem: Problem, solution: Solution, items: Sequence[Item], slot: SlotName, places: Places) -> tuple[int, ...]:
    """The solution's columns, improved and numbered: as last cycle where known, else by the first item in catalogue order."""
    if solution.count <= 1:
        return solution.columns
    alike = tuple((a, b) for (a, one), (b, two) in combinations(enumerate(items), 2) if look_alike(one.medicine, two.medicine))
    wanted = tuple(places.get((slot, item.medicine.code)) for item in items)
    return _improved(solution.columns, problem, alike, wanted, solution.count)


@lru_cache(maxsize=4096)
def _improved(
    columns: tuple[int, ...], problem: Problem, alike: tuple[tuple[int, int], ...], wanted: tuple[int | None, ...], count: int
) -> tuple[int, ...]:
    """Kept, because weeks mostly ask for the same, and when an order changes several ways to pack them are tried."""
    best = _numbered(columns, wanted, count)
    for _ in range(_ROUNDS):
        better = _first_better(best, problem, alike, wanted, count)
        if better is None:
            break
        best = _numbered(better, wanted, count)
    return best


def _first_better(
    columns: tuple[int, ...], problem: Problem, alike: Sequence[tuple[int, int]], wanted: Sequence[int | None], count: int
) -> tuple[int, ...] | None:
    places_known = any(wanted)
    now = _cost(columns, alike, wanted, count)
    for other in _neighbours(columns, count):
        together, crowding = _together(other, alike), _crowding(other, count)  # the same however its columns are numbered
        if together > now[0] or (not places_known and (together, crowding) > (now[0], now[2])):
            continue
        numbered = _numbered(other, wanted, count)
        if (together, _moved(numbered, wanted), crowding, numbered) < now and _allowed(other, problem):
            return other
    return None


def _cost(columns: tuple[int, ...], alike: Sequence[tuple[int, int]], wanted: Sequence[int | None], count: int) -> _Cost:
    return _together(columns, alike), _moved(columns, wanted), _crowding(columns, count), columns


def _moved(columns: Sequence[int], wanted: Sequence[int | None]) -> int:
    return sum([place is not None and place - 1 != column for place, column in zip(wanted, columns, strict=True)])


def _together(columns: Sequence[int], alike: Sequence[tuple[int, int]]) -> int:
    return sum([columns[a] == columns[b] for a, b in alike]) if alike else 0


def _crowding(columns: Sequence[int], count: int) -> int:
    return sum([columns.count(column) ** 2 for column in range(count)])


def _neighbours(columns: tuple[int, ...], count: int) -> Iterator[tuple[int, ...]]:
    for item, column in enumerate(columns):
        for other in range(count):
            if other != column:
                yield (*columns[:item], other, *columns[item + 1 :])
    for one, two in combinations(range(len(columns)), 2):
        if columns[one] != columns[two]:
            swapped = list(columns)
            swapped[one], swapped[two] = swapped[two], swapped[one]
            yield tuple(swapped)


def _allowed(columns: Sequence[int], problem: Problem) -> bool:
    if any(columns[a] == columns[b] for a, b in problem.apart):
        return False
    return all(_within(column, columns, problem) for column in set(columns))


def _within(column: int, columns: Sequence[int], problem: Problem) -> bool:
    held = [demand for demand, at in zip(problem.demands, columns, strict=True) if at == column]
    return all(sum(needs) <= limit for needs, limit in zip(zip(*held, strict=True), problem.limits, strict=True))


def _numbered(columns: Sequence[int], wanted: Sequence[int | None], count: int) -> tuple[int, ...]:
    """The same packing with its columns numbered anew: a column takes the place that most of its items had, then catalogue order."""
    if not any(wanted):
        numbers = {column: at for at, column in enumerate(dict.fromkeys(columns))}
        return tuple([numbers[column] for column in columns])
    votes = {
        (column, place - 1): sum(at == column and want == place for at, want in zip(columns, wanted, strict=True))
        for column in set(columns)
        for place in {want for want in wanted if want}
        if place <= count
    }
    numbers = {}
    for (column, place), many in sorted(votes.items(), key=lambda vote: (-vote[1], vote[0])):
        if many and column not in numbers and place not in numbers.values():
            numbers[column] = place
    free = iter(sorted(set(range(count)) - set(numbers.values())))
    for column in dict.fromkeys(columns):
        if column not in numbers:
            numbers[column] = next(free)
    return tuple(numbers[column] for column in columns)
