"""How often, said in several phrases: "1 cp 3/j", "3 fois par jour maximum", "maximal alle 6 Stunden", "7 days a month".

Comes in: a row of items. Goes out: how many of them a rule takes, and what they become; None where it does not fit.
"""

from collections.abc import Sequence
from dataclasses import replace

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.rows import Rule, begins, together

__all__ = ["CEILINGS", "SOME_DAYS"]

_LONGER = (TimeUnit.DAY, TimeUnit.WEEK, TimeUnit.MONTH, TimeUnit.YEAR)


def _often_by_slash(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "1 cp 3/j": three times a day."""
    step = 1 if begins(row[1:2], "comma") else 0
    rest = row[1 + step :]
    if not begins(row, p.HowMuch) or not begins(rest, p.HowMuch, p.Every):
        return None
    amount, often, every = row[0], rest[0], rest[1]
    assert isinstance(amount, p.HowMuch)  # noqa: S101 — just looked
    assert isinstance(often, p.HowMuch)  # noqa: S101 — just looked
    slash = isinstance(every, p.Every) and every.manner == "slash" and every.unit is TimeUnit.DAY
    if not slash or not amount.unit or often.unit or not often.number.exact or often.number.low.denominator != 1:
        return None
    return 3 + step, [amount, p.Times(often.span, often.number), every]


def _most_before(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "3 fois par jour maximum", "4 comprimés par jour au maximum": the word stands after what it is the most of."""
    if not begins(row, p.HowMuch | p.Times, p.Every, p.Ceiling):
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
    if not begins(row, p.Ceiling, p.Every):
        return None
    every = row[1]
    if not isinstance(every, p.Every) or every.manner != "every":
        return None
    return 2, [replace(every, span=together(row[0], every), manner="at-most")]


def _some_days_a_month(row: Sequence[p.Item]) -> tuple[int, list[p.Item]] | None:
    """ "one week a month", "7 days a month": which days, is not said; and it is no course of that length."""
    if not begins(row, p.Length | p.For, p.Every):
        return None
    length, every = row[0], row[1]
    if not (isinstance(length, p.Length | p.For) and isinstance(every, p.Every)) or every.manner == "every" or every.unit is TimeUnit.DAY:
        return None
    if length.unit in _LONGER and every.unit in _LONGER and _LONGER.index(length.unit) < _LONGER.index(every.unit):
        raise Unclear("read.mixed-days", together(length, every))
    return None


CEILINGS: tuple[Rule, ...] = (_often_by_slash, _most_before, _no_more_often)
SOME_DAYS: tuple[Rule, ...] = (_some_days_a_month,)
