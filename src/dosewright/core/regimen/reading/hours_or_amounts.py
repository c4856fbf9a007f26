"""Numbers that may be an hour or an amount, minutes or an hour, a length or an amount: "at 6 in the morning and 6 at night".

Comes in: the phrases of a line in their order, before any is joined, and the letters of each. Goes out: a doubt for each. Source: common
practice, no source; found by looking at some 15,000 readings.
"""

import itertools
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.line_parts import MOMENT, is_joint
from dosewright.core.regimen.reading.meaning import Doubt
from dosewright.core.regimen.reading.reading_values import Place

__all__ = ["find_doubtful_numbers"]

_HOURS = {  # the hours that people call so
    "MORN": range(4, 12), "NOON": range(11, 14), "AFT": range(1, 7), "EVE": range(3, 12), "CV": range(4, 10), "HS": range(5, 13),
    "NIGHT": range(5, 13), "NOCHE": range(5, 13), "TARDE": range(1, 9),
}  # fmt: skip
_FOLDED = {"MORN": range(4, 12), "EVE": range(4, 11), "HS": range(7, 12), "AFT": range(1, 6)}  # by `folding`, which asks where it must
_MINUTES = frozenset({5, 10, 15, 20, 25})
_SMALL_HOURS = range(1, 5)

Said = Callable[[Place], str]


def find_doubtful_numbers(items: Sequence[p.Item], said: Said) -> tuple[Doubt, ...]:
    """All of them. `said` gives the letters at a place."""
    found = (
        *_second_hours(items),
        *_minutes(items, said),
        *_day_or_amount(items),
        *_bare_hours(items),
        *_halves(items, said),
        *_steps(items),
    )
    return tuple(dict.fromkeys(found))


def _second_hours(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "at 8 in the morning; 6 in the evening": after an hour a bare number before a part of the day may be one too."""
    hour: p.Item | None = None
    for at, item in enumerate(items):
        if isinstance(item, p.Clock | p.Hour):
            hour = item
        after = items[at + 1] if at + 1 < len(items) else None
        if hour is None or not isinstance(item, p.HowMuch) or not isinstance(after, p.When) or not _is_bare_whole(item):
            continue
        number = int(item.number.low)
        joints = [one for one in items[:at] if one.span > hour.span and not isinstance(one, p.When)]
        plain = len(joints) <= 1 and all(is_joint(one, {"and", "comma", "plus"}) for one in joints)
        if number in _HOURS.get(after.code, range(0)) and not (plain and number in _FOLDED.get(after.code, range(0))):
            yield Doubt("read.word", (item.span[0], after.span[1]))


def _is_bare_whole(item: p.HowMuch) -> bool:
    return not item.unit and item.number.exact and item.number.low.denominator == 1


def _minutes(items: Sequence[p.Item], said: Said) -> Iterator[Doubt]:
    """ "a las 8 y 20": eight twenty, or eight and twenty."""
    for at, (hour, joint, number) in enumerate(zip(items, items[1:], items[2:], strict=False)):
        if isinstance(hour, p.Hour) and is_joint(joint, {"and"}) and said(joint.span).casefold() == "y":
            bare = said(number.span)[:1].isdigit() and not isinstance(next(iter(items[at + 3 :]), None), p.Clock | p.Hour)
            if bare and _number_of(number) in _MINUTES:
                yield Doubt("read.word", (hour.span[0], number.span[1]))


def _number_of(item: p.Item) -> Fraction | int | None:
    """A bare number after an hour, "de la noche" or not."""
    match item:
        case p.Hour():
            return item.hour
        case p.Clock() if item.half and not item.time.minute:
            return item.time.hour % 12
        case p.HowMuch() if _is_bare_whole(item):
            return item.number.low
    return None


def _day_or_amount(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 day 2 night": one by day and two by night."""
    bare = [item for item in items if not isinstance(item, p.Joint)]
    for length, amount, when in zip(bare, bare[1:], bare[2:], strict=False):
        few = isinstance(length, p.Length) and not length.role and length.unit is TimeUnit.DAY and length.number.high <= 4
        if few and isinstance(amount, p.HowMuch) and not amount.unit and isinstance(when, p.When):
            yield Doubt("read.word", (length.span[0], when.span[1]))
    if len(bare) == 2 and all(isinstance(item, p.Length) and not item.role and item.unit is TimeUnit.DAY for item in bare):
        yield Doubt("read.word", (bare[0].span[0], bare[1].span[1]))


def _bare_hours(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 at 8am, 2 pm", "1 tab 1 am 2 pm": with a blank before it, "pm" may be the afternoon, and the number an amount."""
    amounts = [item for item in items if isinstance(item, p.HowMuch)]
    units = any(item.unit for item in amounts) or any(isinstance(item, p.UnitAlone) for item in items)
    halves = [
        item for item in items if isinstance(item, p.Clock) and item.half and item.time.hour % 12 in _SMALL_HOURS and not item.time.minute
    ]
    clocks = [item for item in items if isinstance(item, MOMENT)]
    two = len(clocks) == 2 and len(amounts) == 1 and not any(isinstance(item, p.Every | p.Firm | p.Times) for item in items)
    if halves and two and (not units or len(halves) == len(clocks)):
        yield Doubt("read.word", halves[-1].span)


def _halves(items: Sequence[p.Item], said: Said) -> Iterator[Doubt]:
    """ "1 and 1/2 on alternate days": one and a half, or one and a half in turn."""
    turns = any(isinstance(item, p.Every) and item.unit is TimeUnit.DAY and item.number.low == 2 for item in items)
    for item in items:
        joined = isinstance(item, p.HowMuch) and item.number.low == Fraction(3, 2) and " " in said(item.span).strip()
        if turns and joined and "/" in said(item.span):
            yield Doubt("read.alternating", item.span)


def _steps(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "4-3-2-1": four times of a day, or four days."""
    for item in items:
        if isinstance(item, p.Pattern) and len(item.counts) > 2 and all(a > b > 0 for a, b in itertools.pairwise(item.counts)):
            yield Doubt("read.word", item.span)
