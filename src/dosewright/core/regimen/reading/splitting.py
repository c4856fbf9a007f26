"""A day's amount that is said to be taken in so many doses: "4 comprimés par jour en 2 prises" is 2 comprimés twice a day.

Comes in: one phase's items. Goes out: the items with the amount of one dose. Where the amount does not divide into equal whole units,
or the day is not said, it stays a question.
"""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Unclear

__all__ = ["split_doses"]

_MOST_DOSES = 6
_CUT = frozenset({"tablet", "caplet"})
_MEASURED = p.MASS | {"mL"}


def split_doses(items: Sequence[p.Item]) -> list[p.Item]:
    """Raises Unclear where the doses are not all of one size, or not said whole."""
    said = [item for item in items if isinstance(item, p.Split)]
    if not said:
        return list(items)
    amounts = [item for item in items if isinstance(item, p.HowMuch)]
    rates = [item for item in items if isinstance(item, p.Every | p.Firm | p.Times)]
    if len(said) > 1 or len(amounts) != 1 or not _a_day(rates):
        raise Unclear("read.divided", said[0].span)
    doses = _count(said[0])
    one = _one_of(amounts[0], doses, said[0])
    moments = sum(isinstance(item, p.When | p.Clock) for item in items)
    if moments not in (0, doses):
        raise Unclear("read.divided", said[0].span)
    firm = [p.Firm(rates[0].span, p.Number(doses, doses), p.Number(Fraction(1), Fraction(1)), TimeUnit.DAY)]
    kept = [item for item in items if item is not said[0] and item is not rates[0]]
    return [one if item is amounts[0] else item for item in kept] + firm


def _a_day(rates: Sequence[p.Item]) -> bool:
    match rates:
        case [p.Every(number=number, unit=TimeUnit.DAY)]:
            return number == p.Number(Fraction(1), Fraction(1))
    return False


def _count(split: p.Split) -> Fraction:
    if not split.number.exact or split.number.low.denominator != 1 or not 2 <= split.number.low <= _MOST_DOSES:
        raise Unclear("read.divided", split.span)
    return split.number.low


def _one_of(amount: p.HowMuch, doses: Fraction, split: p.Split) -> p.HowMuch:
    each = amount.number.low / doses
    halves = amount.unit in _CUT and amount.number.low <= 1 and each.denominator in (2, 4)  # of three tablets, one may be cut or not
    whole = amount.unit in _MEASURED or each.denominator == 1 or halves
    if not amount.number.exact or amount.each is not None or not amount.unit or not whole:
        raise Unclear("read.divided", split.span)
    return replace(amount, number=p.Number(each, each))
