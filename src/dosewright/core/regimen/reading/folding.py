"""Neighbouring phrases that say one thing together are joined: "1 tablet (20 mg)", "except | Tue | and | Thu", "3 weeks on | 1 week off".

Comes in: a row of items, each with one meaning. Goes out: a shorter row. Nothing is dropped but joints between the parts joined.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import time
from fractions import Fraction
from types import UnionType

from dosewright.core.regimen.dosage import TimeUnit, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.reading_values import Place

__all__ = ["Excluded", "fold", "together"]

_LISTING = ("and", "comma", "or", "plus")


@dataclass(frozen=True, slots=True)
class Excluded(p.Item):
    """Days of the week on which nothing is taken."""

    days: tuple[Weekday, ...]


def together(first: p.Item, last: p.Item) -> Place:
    """From the first letter of one to the last of the other."""
    return first.span[0], last.span[1]


def fold(items: Sequence[p.Item]) -> list[p.Item]:
    """Join until no rule fits any more; each rule shortens the row, so this ends."""
    row = list(items)
    for rule in _RULES:
        at = 0
        while at < len(row):
            found = rule(row[at:])
            if found is None:
                at += 1
            else:
                used, joined = found
                row[at : at + used] = joined
                at += 0 if used > len(joined) else len(joined)
    return row


Rule = Callable[[Sequence[p.Item]], tuple[int, list[p.Item]] | None]


def _kinds(row: Sequence[p.Item], *kinds: "type | UnionType | str") -> bool:
    if len(row) < len(kinds):
        return False
    return all(_is(item, kind) for item, kind in zip(row, kinds, strict=False))


def _is(item: p.Item, kind: "type | UnionType | str") -> bool:
    if isinstance(kind, str):
        return isinstance(item, p.Joint) and item.kind in kind.split()
    return isinstance(item, kind)


def _listing(item: p.Item) -> bool:
    return isinstance(item, p.Joint) and item.kind in _LISTING


def _excluded(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "omit on Tue and Thu": the list belongs to the exception as long as nothing else stands between."""
    if not _kinds(row, p.Except):
        return None
    days: list[Weekday] = []
    end = 1
    while end < len(row):
        step = 1 if _listing(row[end]) and days else 0
        if end + step >= len(row):
            break
        item = row[end + step]
        if not isinstance(item, p.OnDays) or item.stride != 1:
            break
        days.extend(item.days)
        end += step + 1
    if not days:
        raise Unclear("read.negation", row[0].span)
    return end, [Excluded(together(row[0], row[end - 1]), tuple(dict.fromkeys(days)))]


def _day_list(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "Mon Wed and Fri" is one list of days. "or" between days is a question that stays open."""
    if not _kinds(row, p.OnDays):
        return None
    step = 1 if len(row) > 1 and isinstance(row[1], p.Joint) and row[1].kind in ("and", "comma", "plus") else 0
    if _kinds(row[1:2], "comma") and _kinds(row[2:3], "and"):
        step = 2
    if len(row) <= 1 + step:
        return None
    first, second = row[0], row[1 + step]
    if not (isinstance(first, p.OnDays) and isinstance(second, p.OnDays)) or first.stride != second.stride:
        return None
    if set(first.days) & set(second.days):
        raise Unclear("read.twice-said", together(first, second))
    return 2 + step, [replace(first, span=together(first, second), days=first.days + second.days)]


def _month_list(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    if not _kinds(row, p.MonthDays):
        return None
    said = p.MonthDays | p.OfMonth  # "le 1er et le 15 de chaque mois"
    step = 1 if len(row) > 1 and _listing(row[1]) and not _is(row[1], "or") else 0
    if len(row) <= 1 + step or not isinstance(second := row[1 + step], said):
        return None
    first = row[0]
    days = tuple(sorted({*first.days, *second.days}))  # type: ignore[attr-defined]
    return 2 + step, [type(second)(together(first, second), days)]


def _of_month(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    if not _kinds(row, p.MonthDays, p.EachMonth):
        return None
    return 2, [p.OfMonth(together(row[0], row[1]), row[0].days)]  # type: ignore[attr-defined]


def _restated(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "1 tablet (20 mg)", "20 mg (1 tablet)": the same said twice, once by count and once by mass."""
    opened = 1 if _kinds(row[1:2], "lpar equals") else 0
    if not _kinds(row[:1], p.HowMuch) or not _kinds(row[1 + opened : 2 + opened], p.HowMuch):
        return None
    closed = 1 if opened and _kinds(row[2 + opened : 3 + opened], "rpar") else 0
    first, second = row[0], row[1 + opened]
    if not (isinstance(first, p.HowMuch) and isinstance(second, p.HowMuch)) or (opened and not closed):
        return None
    if first.unit in p.MASS and second.unit and second.unit not in p.MASS and opened:
        first, second = second, first
    if second.unit not in p.MASS or first.unit in p.MASS or first.each is not None or not second.number.exact:
        return None
    if not first.unit and not opened:
        return None
    end = 2 + opened + closed
    return end, [replace(first, span=together(row[0], row[end - 1]), each=(second.number.low, second.unit))]


def _sized(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "two 500 mg tablets", "1 x 5 mL spoonful"."""
    if not _kinds(row, p.HowMuch, p.HowMuch, p.UnitAlone):
        return None
    count, size, noun = row[:3]
    if not (isinstance(count, p.HowMuch) and isinstance(size, p.HowMuch) and isinstance(noun, p.UnitAlone)):
        return None
    if count.unit or size.unit not in p.MASS | {"mL"} or not size.number.exact:
        return None
    each = (size.number.low, size.unit) if size.unit in p.MASS else None
    if size.unit == "mL" and (noun.unit, size.number.low) != ("spoonful", Fraction(5)):
        return None
    return 3, [p.HowMuch(together(count, noun), count.number, noun.unit, each)]


def _crossed_size(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "6 x 2.5 mg tablets"."""
    if not _kinds(row, p.Cross, p.UnitAlone):
        return None
    cross, noun = row[0], row[1]
    if not (isinstance(cross, p.Cross) and isinstance(noun, p.UnitAlone)) or cross.second.unit not in p.MASS or noun.unit in p.MASS:
        return None
    each = (cross.second.number.low, cross.second.unit)
    return 2, [p.HowMuch(together(cross, noun), p.Number(cross.first, cross.first), noun.unit, each)]


_DAY_HALVES = {  # which hours a part of the day makes plain: "8 in the morning", "9 in the evening"
    "MORN": (range(4, 12), 0), "EVE": (range(4, 11), 12), "HS": (range(7, 12), 12), "AFT": (range(1, 6), 12),
}  # fmt: skip


def _once_then(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "once in the morning and once at night": the times of day already say it."""
    if not _kinds(row, p.Times, p.When) and not _kinds(row, p.Times, p.Clock):
        return None
    times, moment = row[0], row[1]
    one = isinstance(times, p.Times) and times.number == p.Number(Fraction(1), Fraction(1)) and not times.a_day
    return (2, [moment]) if one else None


def _named_hour(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    if not (_kinds(row, p.Hour, p.When) or _kinds(row, p.When, p.Hour)):
        return None
    hour = next(item for item in row[:2] if isinstance(item, p.Hour))
    when = next(item for item in row[:2] if isinstance(item, p.When))
    hours, more = _DAY_HALVES.get(when.code, (range(0), 0))
    if hour.hour not in hours or when.offset is not None or when.stride not in (None, 1):
        return None
    return 2, [p.Clock(together(row[0], row[1]), time(hour.hour + more))]


_LATER_IN = {"NOCHE": (19, 24), "NIGHT": (19, 24), "TARDE": (13, 20), "AFT": (13, 18)}  # the hours that are called so
_NIGHT_TIMES = frozenset({"HS", "CV", "ACV", "PCV"})


def _vague_made_plain(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "por la noche al acostarse": the second says which part of the night; so does an hour."""
    closed = 1 if _kinds(row[1:2], "lpar") else 0
    if not _kinds(row, p.When) or len(row) < 2 + 2 * closed or (closed and not _is(row[3], "rpar")):
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
    while len(row) > len(found) + 1 and _is(row[len(found)], "and comma plus") and _is_bare_meal(meal := row[len(found) + 1]):
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
    while len(row) > len(found) + 1 and _is(row[len(found)], "and comma"):
        hour = _plain_hour(row[len(found) + 1])
        if hour is None or not last < hour < 24:
            break
        found += [row[len(found)], p.Hour(row[len(found) + 1].span, int(hour))]
        last = hour
    changed = len(found) > 1 and list(row[: len(found)]) != found
    return (len(found), found) if changed and _is(found[-2], "and") and not _is_amount_of_a_time(row[len(found) - 1 :]) else None


def _is_amount_of_a_time(rest: Sequence[p.Item]) -> bool:
    """ "1 at 8 and 10 at 20": the number has a time of its own."""
    following = next((item for item in rest[1:] if not _is(item, "comma dash colon")), None)
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


def _often_by_slash(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "1 cp 3/j": three times a day."""
    step = 1 if _kinds(row[1:2], "comma") else 0
    rest = row[1 + step :]
    if not _kinds(row, p.HowMuch) or not _kinds(rest, p.HowMuch, p.Every):
        return None
    amount, often, every = row[0], rest[0], rest[1]
    assert isinstance(amount, p.HowMuch)  # noqa: S101 — just looked
    assert isinstance(often, p.HowMuch)  # noqa: S101 — just looked
    slash = isinstance(every, p.Every) and every.manner == "slash" and every.unit is TimeUnit.DAY
    if not slash or not amount.unit or often.unit or not often.number.exact or often.number.low.denominator != 1:
        return None
    return 3 + step, [amount, p.Times(often.span, often.number), every]


def _none_then(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ ", 0 at noon," in a list that names every time of day: nothing is taken then."""
    if not _kinds(row[:1], "comma and newline semi dash"):
        return None
    said = [item for item in row[1:4] if not _is(item, "colon")][:2]
    end = 1 + next((n for n, item in enumerate(row[1:]) if item is said[-1]), 0) + 1 if len(said) == 2 else 0
    none = next((item for item in said if isinstance(item, p.HowMuch) and item.number == p.Number(Fraction(0), Fraction(0))), None)
    when = next((item for item in said if isinstance(item, p.When)), None)
    closed = end == len(row) or _is(row[end], "comma and newline semi dash stop") if end else False
    return (end, []) if none and when and closed else None


def _most_before(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "3 fois par jour maximum", "4 comprimés par jour au maximum": the word stands after what it is the most of."""
    if not _kinds(row, p.HowMuch | p.Times, p.Every, p.Ceiling):
        return None
    much, every = row[0], row[1]
    if not isinstance(every, p.Every) or every.manner == "every" or not every.number.exact:
        return None
    span = together(much, row[2])
    if isinstance(much, p.Times):
        return 3, [p.AtMostTimes(span, much.number.high, every.number.low, every.unit)]
    assert isinstance(much, p.HowMuch)  # noqa: S101 — just looked
    return 3, [p.AtMost(span, much.number.high, much.unit, every.number.low, every.unit)]


def _no_more_often(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "maximal alle 6 Stunden": how often a dose as needed may be taken."""
    if not _kinds(row, p.Ceiling, p.Every):
        return None
    every = row[1]
    if not isinstance(every, p.Every) or every.manner != "every":
        return None
    return 2, [replace(every, span=together(row[0], every), manner="at-most")]


def _before_meals(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "half an hour" "before meals": how long before belongs to the instruction."""
    if not _kinds(row, p.Length, p.ByMeals):
        return None
    length, meals = row[0], row[1]
    if not (isinstance(length, p.Length) and isinstance(meals, p.ByMeals)) or length.role or meals.relation not in ("AC", "PC"):
        return None
    minutes = length.number.low * {TimeUnit.MINUTE: 1, TimeUnit.HOUR: 60}.get(length.unit, 0)
    if not length.number.exact or minutes.denominator != 1 or not 0 < minutes <= 240:
        return None
    return 2, [replace(meals, span=together(length, meals), text=f"{length.text} {meals.text}", offset=int(minutes))]


def _total(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "(3 tabs/day)" beside a schedule says how much in all."""
    if not _kinds(row, "lpar", p.HowMuch, p.Every, "rpar"):
        return None
    amount, every = row[1], row[2]
    if not (isinstance(amount, p.HowMuch) and isinstance(every, p.Every)) or (every.unit, every.number.low) != (TimeUnit.DAY, Fraction(1)):
        return None
    return 4, [p.Total(together(row[0], row[3]), amount.number, amount.unit)]


def _reason_list(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    step = 0
    while step < len(row) - 1 and step < 2 and _listing(row[1 + step]):
        step += 1
    if not step or not _kinds(row, p.Reason) or not isinstance(row[1 + step] if len(row) > 1 + step else None, p.ReasonTail | p.Reason):
        return None
    first, second = row[0], row[1 + step]
    word = _joining(row[step])
    return 2 + step, [p.Reason(together(first, second), f"{first.text}{word}{second.text}", f"{first.whole}{word}{second.text}")]  # type: ignore[attr-defined]


def _joining(joint: p.Item) -> str:
    """The joint as it is written between two words of a list."""
    assert isinstance(joint, p.Joint)  # noqa: S101 — the caller looked
    return ", " if joint.kind == "comma" else f" {joint.text} "


def _wanted_list(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "si douleur ou fièvre": the second is one more reason."""
    if not _kinds(row, p.Wanted, "and or comma", p.ReasonTail):
        return None
    first, joint, second = row[:3]
    if not (isinstance(first, p.Wanted) and isinstance(second, p.ReasonTail)) or not first.reason:
        return None
    return 3, [replace(first, span=together(first, second), reason=f"{first.reason}{_joining(joint)}{second.text}")]


def _instruction_list(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "do not crush, break or chew": the list is of instructions, and its "or" leaves nothing of the schedule open."""
    step = 0
    while step < len(row) - 1 and step < 2 and _listing(row[1 + step]):
        step += 1
    ends = (row[0], row[1 + step]) if step and len(row) > 1 + step else ()
    if not ends or not all(isinstance(item, p.Quiet) and item.kind == "instr" for item in ends):
        return None
    first, second = ends
    word = (
        "or"
        if any(_is(item, "or") for item in row[1 : 1 + step])
        else "and"
        if any(_is(item, "and") for item in row[1 : 1 + step])
        else ","
    )
    joined = f"{first.text}{'' if word == ',' else ' '}{word} {second.text}"  # type: ignore[attr-defined]
    return 2 + step, [p.Quiet(together(first, second), "instr", joined)]


def _days_a_week(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "3 days a week"."""
    if not _kinds(row, p.Length, p.Every):
        return None
    length, every = row[0], row[1]
    if not (isinstance(length, p.Length) and isinstance(every, p.Every)) or length.role or length.unit is not TimeUnit.DAY:
        return None
    if every.unit is not TimeUnit.WEEK or every.number.low != 1:
        return None
    return 2, [p.Firm(together(length, every), length.number, every.number, every.unit)]


_LONGER = (TimeUnit.DAY, TimeUnit.WEEK, TimeUnit.MONTH, TimeUnit.YEAR)


def _some_days_a_month(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "one week a month", "7 days a month": which days, is not said; and it is no course of that length."""
    if not _kinds(row, p.Length | p.For, p.Every):
        return None
    length, every = row[0], row[1]
    if not (isinstance(length, p.Length | p.For) and isinstance(every, p.Every)) or every.manner == "every" or every.unit is TimeUnit.DAY:
        return None
    if length.unit in _LONGER and every.unit in _LONGER and _LONGER.index(length.unit) < _LONGER.index(every.unit):
        raise Unclear("read.mixed-days", together(length, every))
    return None


def _rounds(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "21 days on, 7 days off", "for 3 weeks then 1 week off"."""
    if not (row and isinstance(row[0], p.Length | p.For)):
        return None
    step = 0
    while step < 3 and step + 1 < len(row) and _is(row[1 + step], "and comma then semi stop"):
        step += 1
    off = row[1 + step] if len(row) > 1 + step else None
    on = row[0]
    if not isinstance(off, p.Length) or off.role != "off" or (isinstance(on, p.Length) and on.role == "off"):
        return None
    end = 2 + step
    ahead = end
    while ahead < len(row) and _is(row[ahead], "and comma then semi stop"):
        ahead += 1
    again = ahead < len(row) and isinstance(row[ahead], p.Again)
    end = ahead + 1 if again else end
    return end, [p.Rounds(together(on, row[end - 1]), _days(on), _days(off), again or (isinstance(on, p.Length) and on.role == "on"))]


def _days(item: p.Length | p.For) -> int:
    days = item.number.low * {TimeUnit.DAY: 1, TimeUnit.WEEK: 7}.get(item.unit, 0)
    if not item.number.exact or days.denominator != 1 or not 1 <= days <= 400:
        raise Unclear("read.odd-cycle", item.span)
    return int(days)


def _either_amount(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "1 tablet or 2 tablets" is a range said long."""
    if not _kinds(row, p.HowMuch, "or dash", p.HowMuch):
        return None
    first, second = row[0], row[2]
    if not (isinstance(first, p.HowMuch) and isinstance(second, p.HowMuch)) or first.unit != second.unit:
        return None
    if not (first.number.exact and second.number.exact and first.number.low < second.number.low):
        return None
    return 3, [replace(first, span=together(first, second), number=p.Number(first.number.low, second.number.low))]


_RULES: tuple[Rule, ...] = (
    _excluded,
    _day_list,
    _month_list,
    _of_month,
    _either_amount,
    _total,
    _sized,
    _crossed_size,
    _meals_alike,
    _vague_made_plain,
    _hour_list,
    _none_then,
    _often_by_slash,
    _before_meals,
    _most_before,
    _no_more_often,
    _named_hour,
    _once_then,
    _restated,
    _reason_list,
    _wanted_list,
    _instruction_list,
    _days_a_week,
    _some_days_a_month,
    _rounds,
)
