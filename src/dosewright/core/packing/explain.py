"""Why a set has as many columns and cards as it has, and what one change would save: one person and the request in, notes out.

Nothing is decided here: the same loads are solved once more, week by week, then with one thing changed at a time. What binds is looked for
in this order: the sum of a limit, medicines that all exclude each other, the search itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from dosewright.core.packing.load import Load, loads_of
from dosewright.core.packing.person_weeks import Fullest, PersonWeeks, Weeks
from dosewright.core.packing.placing import UnitSeries, place_order
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.saving import one_fewer
from dosewright.core.packing.solve import Problem
from dosewright.core.packing.why_cards import why_so_many_cards
from dosewright.core.packing.why_spread import why_spread
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import SlotName
from dosewright.core.units.person import Person

__all__ = ["explain", "explain_dosing_time"]

_LARGEST_GROUP = 4  # of medicines that exclude each other; larger groups are not looked for, and the search stands for them
_KINDS = ("volume", "pieces", "label-lines")  # as `problem_on` orders the limits of each day


def explain(person: Person, request: PlanRequest, others: Sequence[PlanRequest] = ()) -> tuple[Finding, ...]:
    """For each dosing time what binds its columns; how they come to cards, and why no card fewer; each one change that would save a card.

    `others` are the same request for other card formats, to be tried in place of this one.
    """
    series = _series(person, request)
    loads = loads_of(series, request)
    return tuple(_explain(PersonWeeks(person, request), series, loads, others)) if loads else ()


def explain_dosing_time(person: Person, request: PlanRequest, slot: SlotName) -> tuple[Finding, ...]:
    """What binds the columns of one dosing time; nothing where nothing is packed at it."""
    mine, loads = PersonWeeks(person, request), loads_of(_series(person, request), request)
    spread = [one for one in why_spread(mine, loads) if one.where["slot"] == slot]
    return (*(_why_so_many(mine, mine.fullest(load)) for load in loads if load.slot == slot), *spread)


def _series(person: Person, request: PlanRequest) -> tuple[UnitSeries, ...]:
    placed = (place_order(order, person, request) for order in request.orders_of(person.id))
    return tuple(series for one in placed for series in one.series)


def _explain(mine: PersonWeeks, series: Sequence[UnitSeries], loads: Sequence[Load], others: Sequence[PlanRequest]) -> Iterator[Finding]:
    each = [mine.used(load) for load in loads]
    for load in loads:
        yield _why_so_many(mine, mine.fullest(load))
    yield from why_spread(mine, loads)
    used = [sum(week) for week in zip(*each, strict=True)]
    shape: dict[str, Fact] = {"rows": mine.request.format.rows, "width": mine.request.format.columns}
    yield mine.note("explain.cards", None, columns=max(used), weeks=len(used), cards=mine.cards(used, loads), **shape)
    yield from why_so_many_cards(mine, used, loads)
    for load, own in zip(loads, each, strict=True):
        yield from _savings(mine, load, own, _Whole(loads, used))
    yield from one_fewer(mine, series, mine.cards(used, loads), others)


@dataclass(frozen=True, slots=True)
class _Whole:
    """All dosing times, and the columns of each week together."""

    loads: Sequence[Load]
    used: Weeks


def _why_so_many(mine: PersonWeeks, fullest: Fullest) -> Finding:
    count, load = fullest.solution.count, fullest.load
    if count == 1:
        return mine.note("explain.one-column", load, medicines=len(fullest.items))
    if not fullest.solution.optimal:
        return mine.note("explain.unproved", load, columns=count, bound=fullest.solution.lower_bound)
    if by_sum := _binding_sum(fullest.problem, count, mine.request):
        kind, need, limit = by_sum
        return mine.note(f"explain.{kind}", load, columns=count, need=need, limit=limit)
    if group := _excluding(fullest.problem, count):
        return mine.note("explain.apart", load, columns=count, medicines=tuple(fullest.items[at].medicine.label for at in group))
    return mine.note("explain.search", load, columns=count, fewer=count - 1, nodes=fullest.solution.nodes)


def _binding_sum(problem: Problem, count: int, request: PlanRequest) -> tuple[str, int, int] | None:
    """The limit whose sum on one day alone needs so many columns, with the sum and the limit: mm³, pieces or lines."""
    kinds = _KINDS if request.label_lines else _KINDS[:2]
    sums = [sum(demand[at] for demand in problem.demands) for at in range(len(problem.limits))]
    binding = [at for at, limit in enumerate(problem.limits) if -(-sums[at] // limit) == count]
    if not binding:
        return None
    at = max(binding, key=lambda at: (sums[at] * 1000 // problem.limits[at], -at))
    kind = kinds[at % len(kinds)]
    scale = 1000 if kind == "volume" else 1
    return kind, -(-sums[at] // scale), problem.limits[at] // scale


def _excluding(problem: Problem, count: int) -> tuple[int, ...] | None:
    """So many items of which no two may, or can, share a column."""
    if count > _LARGEST_GROUP:
        return None
    items = range(len(problem.demands))
    clash = {pair for pair in combinations(items, 2) if _clash(pair, problem)}
    return next((group for group in combinations(items, count) if all(pair in clash for pair in combinations(group, 2))), None)


def _clash(pair: tuple[int, int], problem: Problem) -> bool:
    one, other = (problem.demands[at] for at in pair)
    return pair in problem.apart or any(a + b > limit for a, b, limit in zip(one, other, problem.limits, strict=True))


def _savings(mine: PersonWeeks, load: Load, used: Weeks, whole: _Whole) -> Iterator[Finding]:
    """Each medicine of the dosing time without which the set would need a card less, or else the dosing time a column less.

    `used` are the dosing time's columns week by week.
    """
    others = [total - columns for total, columns in zip(whole.used, used, strict=True)]
    now = mine.cards(whole.used, whole.loads)
    for medicine in dict.fromkeys(item.medicine for item in load.items):
        less = replace(load, items=tuple(item for item in load.items if item.medicine != medicine))
        without = mine.used(less)
        cards = mine.cards(_sums(others, without), [less if one is load else one for one in whole.loads])
        if 0 < cards < now:
            yield mine.note("explain.saves-card", load, medicine=medicine.label, cards=cards)
        elif 0 < max(without) < max(used):
            yield mine.note("explain.saves-column", load, medicine=medicine.label, columns=max(without))


def _sums(one: Weeks, other: Weeks) -> Weeks:
    return [a + b for a, b in zip(one, other, strict=True)]
