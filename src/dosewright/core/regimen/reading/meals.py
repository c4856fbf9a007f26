"""Meals that are not named: before each meal, with meals, after food.

Comes in: one phase's items. Goes out: the items with "each meal" as breakfast, lunch and the evening meal, and what was assumed for it.
Beside a count ("three times daily with meals") the words are an instruction and the count says how often.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Doubt, Unclear
from dosewright.core.units.finding import Finding, Severity

__all__ = ["Settled", "settle_meals"]

_BY_DAY = ("MORN", "NOON", "EVE")  # each has its meal
_THREE = Finding("read.three-meals", Severity.NOTE)
_THREE_MEALS = ("M", "D", "V")


@dataclass(frozen=True, slots=True)
class Settled:
    """The items, what was assumed for them, and what is in doubt."""

    items: list[p.Item]
    assumed: tuple[Finding, ...] = ()
    doubts: tuple[Doubt, ...] = ()


def settle_meals(items: Sequence[p.Item]) -> Settled:
    """Raises Unclear where the line does not say at which meals, and three of them cannot be meant."""
    meals = [item for item in items if isinstance(item, p.ByMeals)]
    if not meals:
        return Settled(list(items))
    _require_apart(items)
    named = [item for item in items if isinstance(item, p.When | p.Clock)]
    wanted = any(isinstance(item, p.Wanted) for item in items)
    item = meals[0]
    if len(meals) > 1:
        raise Unclear("read.twice-said", meals[1].span)
    if item.kind == "food" or (item.kind == "latin" and _by_day(named, least=1)) or _pattern_at_meals(items, item):
        return Settled(list(items))
    often = _often(items)
    if often is None and not wanted and item.kind == "each":
        return Settled(_three(items, item), (_THREE,))
    if often is not None and often == 3 + len(named) and not wanted:
        return Settled(_three(items, item), (_THREE,))
    if often is None and not wanted and not _by_day(named):
        return Settled(_three(items, item), (_THREE,), (Doubt("read.which-meals", item.span),))
    if named and not _by_day(named):
        raise Unclear("read.which-meals", item.span)
    if item.kind == "each" and often not in (None, 3):
        raise Unclear("read.contradiction", item.span)
    return Settled(list(items))


def _pattern_at_meals(items: Sequence[p.Item], meals: p.ByMeals) -> bool:
    """ "1-0-1 with meals": the places have their meals, as long as none is bedtime; "each meal" needs all three."""
    pattern = next((item for item in items if isinstance(item, p.Pattern)), None)
    return pattern is not None and not any(pattern.counts[3:]) and (meals.kind != "each" or all(pattern.counts[:3]))


def _by_day(named: Sequence[p.Item], least: int = 2) -> bool:
    """ "morning and evening with meals", "mane pc": each has its meal."""
    return len(named) >= least and all(isinstance(one, p.When) and one.code in _BY_DAY for one in named)


def _require_apart(items: Sequence[p.Item]) -> None:
    """ "with food and at bedtime" may be once or several times."""
    for first, joint, second in zip(items, items[1:], items[2:], strict=False):
        if isinstance(joint, p.Joint) and joint.kind in ("and", "plus"):
            pair = (first, second)
            if any(isinstance(i, p.ByMeals) and i.kind == "food" for i in pair) and any(isinstance(i, p.When | p.Clock) for i in pair):
                raise Unclear("read.which-meals", (first.span[0], second.span[1]))


def _often(items: Sequence[p.Item]) -> int | None:
    """How many times a day the line says, or None."""
    for item in items:
        if isinstance(item, p.Firm | p.Times):
            return int(item.times.low if isinstance(item, p.Firm) else item.number.low)
    if any(isinstance(item, p.Every) for item in items):
        return 1
    return None


def _three(items: Sequence[p.Item], meals: p.ByMeals) -> list[p.Item]:
    row: list[p.Item] = []
    for item in items:
        if item is not meals:
            row.append(item)
            continue
        for meal in _THREE_MEALS:
            row += [p.When(meals.span, meals.relation + meal, meals.offset), p.Joint(meals.span, "comma")]
    return row
