"""Times of day that neighbouring phrases say together: "por la noche al acostarse", "before breakfast and dinner", "um 8, 14 und 20 Uhr".

Comes in: a row of items. Goes out: how many of them a rule takes, and what they become; None where it does not fit.
"""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.rows import Rule, begins, is_a, together

__all__ = ["MEALS_AND_HOURS"]

_LATER_IN = {"NOCHE": (19, 24), "NIGHT": (19, 24), "TARDE": (13, 20), "AFT": (13, 18)}  # the hours that are called so
_NIGHT_TIMES = frozenset({"HS", "CV", "ACV", "PCV"})


def _vague_made_plain(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "por la noche al acostarse": the second says which part of the night; so does an hour."""
    closed = 1 if begins(row[1:2], "lpar") else 0
    if not begins(row, p.When) or len(row) < 2 + 2 * closed or (closed and not is_a(row[3], "rpar")):
        return None
    vague, other = row[0], row[1 + closed]
    low, high = _LATER_IN.get(vague.code, (0, 0))  # type: ignore[attr-defined]
    plain = isinstance(other, p.When) and not other.bare and other.code in _NIGHT_TIMES and vague.code in ("NOCHE", "NIGHT")  # type: ignore[attr-defined]
    hour = other.time.hour if isinstance(other, p.Clock) else other.hour if isinstance(other, p.Hour) and other.hour > 12 else -1
    if not high or not (plain or low <= hour < high):
        return None
    return 2 + 2 * closed, [other]


def _meals_alike(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "before breakfast and dinner": before both."""
    first = row[0]
    if not isinstance(first, p.When) or first.code[:2] not in ("AC", "PC"):
        return None
    found: list[p.Item] = [first]
    while len(row) > len(found) + 1 and is_a(row[len(found)], "and comma plus") and _is_bare_meal(meal := row[len(found) + 1]):
        assert isinstance(meal, p.When)  # noqa: S101 — just looked
        found += [row[len(found)], replace(meal, code=first.code[:2] + meal.code[-1], offset=first.offset)]
    return (len(found), found) if len(found) > 1 else None


def _is_bare_meal(item: p.Item) -> bool:
    return isinstance(item, p.When) and item.bare and item.code in ("CM", "CD", "CV")


def _hour_list(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "à 8 h, 14 h et 20 h", "a las 8, 14 y 20": the later ones are clock times too, as long as they are later in the day."""
    if not isinstance(row[0], p.Hour | p.Clock):
        return None
    found: list[p.Item] = [row[0]]
    last = _hour_of(row[0])
    while len(row) > len(found) + 1 and is_a(row[len(found)], "and comma"):
        hour = _plain_hour(row[len(found) + 1])
        if hour is None or not last < hour < 24:
            break
        found += [row[len(found)], p.Hour(row[len(found) + 1].span, int(hour))]
        last = hour
    changed = len(found) > 1 and list(row[: len(found)]) != found
    return (len(found), found) if changed and is_a(found[-2], "and") and not _is_amount_of_a_time(row[len(found) - 1 :]) else None


def _is_amount_of_a_time(rest: Sequence[p.Item]) -> bool:
    """ "1 at 8 and 10 at 20": the number has a time of its own."""
    following = next((item for item in rest[1:] if not is_a(item, "comma dash colon")), None)
    return isinstance(rest[0], p.HowMuch) and isinstance(following, p.When | p.Clock | p.Hour | p.OnDays | p.ByMeals | p.Length)


def _hour_of(item: p.Item) -> Fraction:
    return Fraction(item.hour if isinstance(item, p.Hour) else item.time.hour)  # type: ignore[attr-defined]


def _plain_hour(item: p.Item) -> Fraction | None:
    """An hour, a length of hours, or a bare number, after a clock time."""
    match item:
        case p.Hour():
            return Fraction(item.hour)
        case p.Length() if item.unit is TimeUnit.HOUR and not item.role and item.number.exact:
            return item.number.low if item.number.low.denominator == 1 else None
        case p.HowMuch() if not item.unit and item.number.exact and item.number.low.denominator == 1:
            return item.number.low
    return None


def _none_then(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ ", 0 at noon," in a list that names every time of day: nothing is taken then."""
    if not begins(row[:1], "comma and newline semi dash"):
        return None
    said = [item for item in row[1:4] if not is_a(item, "colon")][:2]
    end = 1 + next((n for n, item in enumerate(row[1:]) if item is said[-1]), 0) + 1 if len(said) == 2 else 0
    none = next((item for item in said if isinstance(item, p.HowMuch) and item.number == p.Number(Fraction(0), Fraction(0))), None)
    when = next((item for item in said if isinstance(item, p.When)), None)
    closed = end == len(row) or is_a(row[end], "comma and newline semi dash stop") if end else False
    return (end, []) if none and when and closed else None


def _before_meals(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "half an hour" "before meals": how long before belongs to the instruction."""
    if not begins(row, p.Length, p.ByMeals):
        return None
    length, meals = row[0], row[1]
    if not (isinstance(length, p.Length) and isinstance(meals, p.ByMeals)) or length.role or meals.relation not in ("AC", "PC"):
        return None
    minutes = length.number.low * {TimeUnit.MINUTE: 1, TimeUnit.HOUR: 60}.get(length.unit, 0)
    if not length.number.exact or minutes.denominator != 1 or not 0 < minutes <= 240:
        return None
    return 2, [replace(meals, span=together(length, meals), text=f"{length.text} {meals.text}", offset=int(minutes))]


MEALS_AND_HOURS: tuple[Rule, ...] = (_meals_alike, _vague_made_plain, _hour_list, _none_then, _before_meals)
