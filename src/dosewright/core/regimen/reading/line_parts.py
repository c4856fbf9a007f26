"""A line's phrases in groups: what stands before, between and after the amounts, and which of it are moments, days, rhythms and lengths.

For the rules that look for doubt. Comes in: phrases in the order of the line.
"""

from collections.abc import Sequence

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.rows import is_joint

__all__ = ["ADDED", "AMOUNT", "MOMENT", "SENTENCE", "is_bound", "is_days", "is_rhythm", "joints_between", "moments_in", "parts_of"]

MOMENT = p.When | p.Clock | p.Hour
AMOUNT = p.HowMuch | p.Pattern | p.Cross | p.HourOrAmount
ADDED = frozenset({"and", "plus", "but"})  # joints that put one thing to another
SENTENCE = frozenset({"stop", "newline", "semi", "lpar", "rpar", "dash", "colon"})  # joints that end what a phrase holds for


def parts_of(items: Sequence[p.Item]) -> list[list[p.Item]]:
    """The phrases before, between and after the amounts, one step of a course apart from the next."""
    parts: list[list[p.Item]] = [[]]
    for item in items:
        if isinstance(item, AMOUNT) or is_joint(item, {"then"}):
            parts.append([])
        else:
            parts[-1].append(item)
    return parts


def moments_in(part: Sequence[p.Item]) -> list[int]:
    """Where the times of day stand."""
    return [at for at, item in enumerate(part) if isinstance(item, MOMENT)]


def joints_between(part: Sequence[p.Item], start: int, end: int) -> set[str]:
    """The kinds of joint between two places."""
    return {item.kind for item in part[start + 1 : end] if isinstance(item, p.Joint)}


def is_bound(item: p.Item) -> bool:
    """For how long, from when, until when; hours and minutes are no course."""
    length = isinstance(item, p.For | p.Length) and item.unit not in (TimeUnit.HOUR, TimeUnit.MINUTE)
    return length or isinstance(item, p.Until | p.From | p.CycleDays)


def is_days(item: p.Item) -> bool:
    """Days of the week or of the month."""
    return isinstance(item, p.OnDays | p.OtherDays | p.OfMonth | p.MonthDays)


def is_rhythm(item: p.Item) -> bool:
    """A period that is not a day."""
    return isinstance(item, p.Every) and (item.unit is not TimeUnit.DAY or item.number.high != 1)
