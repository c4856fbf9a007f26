"""Phrases that may mean several things become every one of them, each a row of items with one meaning a phrase.

Comes in: a row of items. Goes out: rows, and the doubts that made several of one (also where only one option is offered).
"""

import itertools
from collections.abc import Sequence
from dataclasses import replace
from datetime import time
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Doubt, Unclear

__all__ = ["LARGEST_CHOICE", "Habits", "options"]

LARGEST_CHOICE = 12  # more meanings than a person can weigh on one screen: the question is asked without them

Options = list[list[p.Item]]


class Habits:
    """What a language settles: `clock_24` "um 8 Uhr" is the morning; `times_first` "3x1" is three times one (None: not settled);
    `siesta`: up to six o'clock the afternoon may be meant."""

    def __init__(self, *, clock_24: bool, times_first: bool | None, siesta: bool = False) -> None:
        self.clock_24, self.times_first, self.siesta = clock_24, times_first, siesta


def options(items: Sequence[p.Item], habits: Habits) -> tuple[list[list[p.Item]], tuple[Doubt, ...]]:
    """All rows, in order of the first phrase's options. Raises Unclear where there are more than LARGEST_CHOICE."""
    wanted = any(isinstance(item, p.Wanted) for item in items)
    alone = (
        sum(isinstance(item, p.When | p.Clock | p.Hour) for item in items) == 1
    )  # "mañana", "morgen": tomorrow, or one of several times of day
    doubts: list[Doubt] = []
    each: list[Options] = []
    for item in items:
        if isinstance(item, p.Every) and item.manner.startswith("about"):
            found, doubt = _week_about(item, beside=any(isinstance(other, _OFTEN) and other is not item for other in items)), None
        elif isinstance(item, p.Cross) and habits.times_first is None and item.second.unit in _MEASURED:
            found, doubt = _crossed_measure(item, items)
        elif isinstance(item, p.HourOrAmount):
            found, doubt = [[item.clock], [item.amount, item.when]], Doubt("read.word", item.span)
        else:
            found, doubt = _options(item, habits, wanted=wanted, alone=alone)
        each.append(found)
        if doubt is not None:
            doubts.append(doubt)
    size = 1
    for found in each:
        size *= len(found)
    if size > LARGEST_CHOICE:
        raise Unclear("read.too-many", doubts[0].span)
    return [list(itertools.chain.from_iterable(row)) for row in itertools.product(*each)], tuple(doubts)


# Names of parts of the day that no dosing time has, the dosing times they may mean, and the question.
_VAGUE = {
    "AFT": (("NOON", "EVE"), "read.afternoon"),
    "PM": (("NOON", "EVE"), "read.afternoon"),
    "TARDE": (("NOON", "EVE"), "read.afternoon"),
    "NOCHE": (("EVE", "HS"), "read.night"),
    "NIGHT": (("EVE", "HS"), "read.night"),
}


def _options(item: p.Item, habits: Habits, *, wanted: bool, alone: bool) -> tuple[Options, Doubt | None]:
    match item:
        case p.When(code="MANANA"):
            return [[replace(item, code="MORN")]], Doubt("read.tomorrow", item.span) if item.bare and alone else None
        case p.When() if item.code in _VAGUE:
            codes, question = _VAGUE[item.code]
            return [[replace(item, code=code)] for code in codes], Doubt(question, item.span)
        case p.Hour():
            return _hours(item, habits, alone=alone)
        case p.Cross():
            return _crossed(item, habits)
        case p.HowMuch() | p.Every() | p.Times() | p.For() | p.Length() | p.Firm():
            return _range(item, wanted=wanted)
    return [[item]], None


def _range(item: p.HowMuch | p.Every | p.Times | p.For | p.Length | p.Firm, *, wanted: bool) -> tuple[Options, Doubt | None]:
    """Both ends of a range. As needed, a range is what it is; but not of the length of a course."""
    number = item.times if isinstance(item, p.Firm) else item.number
    if number.exact or (wanted and not isinstance(item, p.For | p.Length)):
        return [[item]], None
    code = "read.dose-range" if isinstance(item, p.HowMuch) else "read.range"
    ends = [p.Number(end, end) for end in (number.low, number.high) if end > 0]
    rows: Options = [[replace(item, times=end) if isinstance(item, p.Firm) else replace(item, number=end)] for end in ends]
    return rows, Doubt(code, item.span)


def _hours(item: p.Hour, habits: Habits, *, alone: bool) -> tuple[Options, Doubt | None]:
    if item.loose and alone and item.hour > 1:  # "1 cp 8 h": at eight, or every eight hours
        return [[p.Clock(item.span, time(item.hour))], [p.Every(item.span, _exactly(item.hour), TimeUnit.HOUR, "every")]], None
    if item.hour == 0 and not habits.clock_24:
        raise Unclear("read.clock", item.span)  # "at 0 and 2 months"
    early = not item.loose and item.hour in range(1, 7 if habits.siesta else 5)  # "a las 2", "um 2 Uhr": hardly at night
    if (habits.clock_24 and not early) or item.hour > 12:
        return [[p.Clock(item.span, time(item.hour))]], None
    halves = (time(item.hour % 12), time(item.hour % 12 + 12))
    return [[p.Clock(item.span, half)] for half in halves], Doubt("read.hour", item.span, {"hour": item.hour})


_OFTEN = p.When | p.Clock | p.Hour | p.Pattern | p.Every | p.Firm | p.Times


def _week_about(item: p.Every, *, beside: bool) -> Options:
    """ "le matin une semaine sur deux": each morning of that week, or one; beside a day of the week, that day."""
    week = p.CycleDays(item.span, 1, 7, 7 * int(item.number.low))
    each_day = p.Every(item.span, _exactly(1), TimeUnit.DAY, "every")
    if not beside:  # "une semaine sur deux" alone: once in it, or each day of it; "jede zweite Woche" is once
        once: list[p.Item] = [replace(item, manner="every")]
        return [once] if item.manner == "about-once" else [once, [week, each_day]]
    return [[replace(item, manner="every")], [week, each_day], [week]]


def _exactly(number: int) -> p.Number:
    return p.Number(Fraction(number), Fraction(number))


_MEASURED = p.MASS | {"mL"}


def _crossed_measure(item: p.Cross, items: Sequence[p.Item]) -> tuple[Options, Doubt | None]:
    """ "2 x 500 mg tds" is 1,000 mg each time. With no other word for how often, the 2 may be how often."""
    count = item.first * item.second.number.low
    in_all = replace(item.second, span=item.span, number=p.Number(count, count))
    moments = sum(isinstance(one, p.When | p.Clock) for one in items)
    often = any(isinstance(one, p.Firm | p.Times) or (isinstance(one, p.Every) and not _each_day(one)) for one in items)
    if item.first == 1 or often or moments not in (0, item.first):
        return [[in_all]], None
    return [[in_all], [p.Times(item.span, p.Number(item.first, item.first)), item.second]], Doubt("read.cross", item.span)


def _each_day(every: p.Every) -> bool:
    return every.unit is TimeUnit.DAY and every.number.low == 1


def _crossed(item: p.Cross, habits: Habits) -> tuple[Options, Doubt | None]:
    times = [p.Times(item.span, p.Number(item.first, item.first), a_day=bool(habits.times_first)), item.second]
    count = item.second.number.low
    if habits.times_first and (item.first >= count or item.second.unit):
        return [times], None  # "3x1", "3x20 Tropfen"; "1x3" may be turned round
    turned = [replace(item.second, number=p.Number(item.first, item.first)), p.Times(item.span, p.Number(count, count))]
    if item.second.unit or item.first == count:
        return [times], None if item.first == count else Doubt("read.cross", item.span)
    return [times, turned], Doubt("read.cross", item.span)
