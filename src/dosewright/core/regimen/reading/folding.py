"""Neighbouring phrases that say one thing together are joined: "1 tablet (20 mg)", "except | Tue | and | Thu", "3 weeks on | 1 week off".

Comes in: a row of items, each with one meaning. Goes out: a shorter row. Nothing is dropped but joints between the parts joined.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import time
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.folding_often import CEILINGS, SOME_DAYS
from dosewright.core.regimen.reading.folding_times import MEALS_AND_HOURS
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.rows import Rule, together
from dosewright.core.regimen.reading.rows import begins as _kinds
from dosewright.core.regimen.reading.rows import is_a as _is

__all__ = ["DAY_HALVES", "Excluded", "fold", "together"]

_LISTING = ("and", "comma", "or", "plus")


@dataclass(frozen=True, slots=True)
class Excluded(p.Item):
    """Days of the week on which nothing is taken."""

    days: tuple[Weekday, ...]


def fold(items: Sequence[p.Item]) -> list[p.Item]:
    """Join until no rule fits any more; each rule shortens the row, so this ends."""
    row = list(items)
    for rule in _RULES:
        head = _HEADS.get(rule, p.Item)
        at = 0
        while at < len(row):
            found = rule(row[at:]) if isinstance(row[at], head) else None
            if found is None:
                at += 1
            else:
                used, joined = found
                row[at : at + used] = joined
                at += 0 if used > len(joined) else len(joined)
    return row


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
    held = second.unit in p.MASS or (opened and second.unit == "unit" and first.unit)
    if not held or first.unit in p.MASS or not second.number.exact:
        return None
    if not first.unit and not opened:
        return None
    end = 2 + opened + closed
    if first.each is not None:  # "15 mg (6 x 2.5 mg tablets)"
        if not opened or first.each != (second.number.low / first.number.high, second.unit):
            raise Unclear("read.strength", together(row[0], row[end - 1]), mass=second.number.low, unit=str(second.unit))
        return end, [replace(first, span=together(row[0], row[end - 1]))]
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


DAY_HALVES = {  # which hours a part of the day makes plain: "8 in the morning", "9 in the evening"
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
    hours, more = DAY_HALVES.get(when.code, (range(0), 0))
    if hour.hour not in hours or when.offset is not None or when.stride not in (None, 1):
        return None
    return 2, [p.Clock(together(row[0], row[1]), time(hour.hour + more))]


def _second_hour(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "at 6 in the morning and 6 in the evening": the same number again is the hour; another may be an amount."""
    step = 1 if _kinds(row[1:2], "and comma plus") else 0
    if not _kinds(row[:1], p.Clock) or not _kinds(row[1 + step :], p.HowMuch, p.When):
        return None
    clock, amount, when = row[0], row[1 + step], row[2 + step]
    if not (isinstance(clock, p.Clock) and isinstance(amount, p.HowMuch) and isinstance(when, p.When)):
        return None
    hours, more = DAY_HALVES.get(when.code, (range(0), 0))
    if amount.unit or not amount.number.exact or amount.number.low not in hours or when.offset is not None:
        return None
    span = together(amount, when)
    second = p.Clock(span, time(int(amount.number.low) + more))
    if clock.time.hour % 12 == amount.number.low % 12:
        return 3 + step, [*row[: 1 + step], second]
    return 3 + step, [*row[: 1 + step], p.HourOrAmount(span, second, amount, when)]


def _same_relation(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "before breakfast, lunch and evening meal": before each of them."""
    first = row[0] if row else None
    if not isinstance(first, p.When) or first.code[:2] not in ("AC", "PC"):
        return None
    joined, at = [row[0]], 1
    while (step := _joints_at(row, at)) and isinstance(meal := row[at + step], p.When) and meal.bare and meal.code in ("CM", "CD", "CV"):
        joined += [*row[at : at + step], replace(meal, code=first.code[:2] + meal.code[1:], offset=first.offset)]
        at += step + 1
    return (at, joined) if at > 1 else None


def _joints_at(row: Sequence[p.Item], at: int) -> int:
    """How many joints of a list stand there before a phrase; 0 where none does."""
    step = 0
    while at + step < len(row) and step < 2 and _is(row[at + step], "and comma plus"):
        step += 1
    return step if at + step < len(row) else 0


def _total(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "(3 tabs/day)", "= 300 mg/day" beside a schedule says how much in all."""
    last = _kinds(row, "colon", p.HowMuch, p.Every) and len(row) == 3
    if not last and not _kinds(row, "lpar", p.HowMuch, p.Every, "rpar"):
        return None
    amount, every = row[1], row[2]
    if not (isinstance(amount, p.HowMuch) and isinstance(every, p.Every)) or (every.unit, every.number.low) != (TimeUnit.DAY, Fraction(1)):
        return None
    if last and every.manner != "slash":
        return None
    end = 3 if last else 4
    return end, [p.Total(together(row[0], row[end - 1]), amount.number, amount.unit)]


def _monthly_on(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "every month | on the 1st", "on the 1st | monthly"."""
    pair = sorted(row[:2], key=lambda item: isinstance(item, p.MonthDays))
    if len(pair) < 2 or not isinstance(pair[0], p.Every) or not isinstance(pair[1], p.MonthDays):
        return None
    if pair[0].unit is not TimeUnit.MONTH or pair[0].number.low != 1 or pair[0].number.high != 1:
        return None
    return 2, [p.OfMonth(together(row[0], row[1]), pair[1].days)]


def _reason_in_brackets(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "(blood pressure)"."""
    if not _kinds(row, "lpar", p.ReasonTail, "rpar"):
        return None
    text = row[1].text  # type: ignore[attr-defined]
    return 3, [p.Reason(together(row[0], row[2]), text, f"({text})")]


def _first_of_month(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "on the first day | of each month"."""
    if not _kinds(row, p.CycleDays, p.EachMonth):
        return None
    days = row[0]
    if not isinstance(days, p.CycleDays) or days.length is not None or days.open or not days.first == days.last <= 31:
        return None
    return 2, [p.OfMonth(together(row[0], row[1]), tuple(range(days.first, days.last + 1)))]


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
    """ "3 days a week". A length and another period side by side are a slip: "3 mois par jour" for "3 fois par jour"."""
    length, every = (*row[:2], None, None)[:2]
    if not isinstance(length, p.Length | p.For) or not isinstance(every, p.Every) or every.manner not in ("a", "slash", "every", "daily"):
        return None
    if length.role if isinstance(length, p.Length) else length.first or every.manner == "daily":
        return None
    if length.unit is TimeUnit.DAY and every.unit is TimeUnit.WEEK and every.number.low == 1 and length.number.high <= 7:
        return 2, [p.Firm(together(length, every), length.number, every.number, every.unit, days=True)]
    if isinstance(length, p.Length) and every.manner in ("a", "slash") and every.unit is TimeUnit.DAY:
        raise Unclear("read.not-understood", together(length, every))
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
    whole = row[end] if again and end < len(row) else None
    if isinstance(whole, p.Every) and whole.number.low * {TimeUnit.DAY: 1, TimeUnit.WEEK: 7}.get(whole.unit, 0) == _days(on) + _days(off):
        end += 1  # "repeat every 3 weeks"
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
    _first_of_month,
    _monthly_on,
    _reason_in_brackets,
    _either_amount,
    _total,
    _sized,
    _crossed_size,
    *MEALS_AND_HOURS,
    *CEILINGS,
    _named_hour,
    _second_hour,
    _same_relation,
    _once_then,
    _restated,
    _reason_list,
    _wanted_list,
    _instruction_list,
    _days_a_week,
    *SOME_DAYS,
    _rounds,
)

# What a rule's row begins with, so that most rules need not be asked; a rule that is not here is always asked.
_HEADS: dict[Rule, tuple[type[p.Item], ...]] = {
    _excluded: (p.Except,),
    _day_list: (p.OnDays,),
    _month_list: (p.MonthDays,),
    _of_month: (p.MonthDays,),
    _either_amount: (p.HowMuch,),
    _total: (p.Joint,),
    _sized: (p.HowMuch,),
    _crossed_size: (p.Cross,),
    _named_hour: (p.Hour, p.When),
    _once_then: (p.Times,),
    _restated: (p.HowMuch,),
    _reason_list: (p.Reason,),
    _instruction_list: (p.Quiet,),
    _days_a_week: (p.Length, p.For),
    _rounds: (p.Length, p.For),
}
