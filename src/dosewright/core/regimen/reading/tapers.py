""" "reducing by 5 mg every 3 days to 10 mg" becomes phases, one after the other, each with its amount and its length.

Comes in: the items of a line. Goes out: the same items with every step written out, and what is in doubt: an end that is not said. Raises
Unclear where the steps do not reach their end exactly, or where the amount that changes is not one amount once a day.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Doubt, Unclear

__all__ = ["write_out_steps"]

_MOST_STEPS = 30


def write_out_steps(items: Sequence[p.Item]) -> tuple[list[p.Item], tuple[Doubt, ...]]:
    """A row without a step comes back as it is."""
    at = next((n for n, item in enumerate(items) if isinstance(item, p.StepBy)), None)
    if at is None:
        return list(items), ()
    step, before, after = items[at], _without_joint(items[:at]), items[at + 1 :]
    assert isinstance(step, p.StepBy)  # noqa: S101 — found as one
    stops = any(isinstance(item, p.StopTaking) for item in after)
    rest = [item for item in after if not isinstance(item, p.StopTaking) and not _each_day(item) and not _said_before(item, before)]
    if any(not isinstance(item, p.Joint | p.Quiet | p.Reason) for item in rest):
        raise Unclear("read.step", step.span)
    end = Fraction(0) if stops and step.end is None and step.sign < 0 else step.end
    doubts = (Doubt("read.step", step.span),) if end is None else ()
    if end is None and step.sign > 0:
        raise Unclear("read.step", step.span)
    return _phases(before, step, end or Fraction(0), stops=stops) + rest, doubts


def _each_day(item: p.Item) -> bool:
    """The "daily" of "to 4 daily"."""
    return isinstance(item, p.Every) and (item.unit, item.number) == (TimeUnit.DAY, p.Number(Fraction(1), Fraction(1)))


def _said_before(item: p.Item, before: Sequence[p.Item]) -> bool:
    """The "at night" of "to 3 at night", where all of them are at night."""
    return isinstance(item, p.When) and any(isinstance(one, p.When) and one.code == item.code for one in before)


def _phases(before: Sequence[p.Item], step: p.StepBy, end: Fraction, *, stops: bool) -> list[p.Item]:
    """What is taken now, once for each step; the last amount goes on, unless it is none."""
    amount, length = _one_amount(before, step), _length(step)
    amounts = list(_amounts(amount.number.low, step, end))
    row: list[p.Item] = []
    for number, count in enumerate(amounts):
        said = [item for item in before if number == 0 or not isinstance(item, p.For | p.Length)]
        row += [replace(item, number=p.Number(count, count)) if item is amount else item for item in said]
        last = number == len(amounts) - 1
        if not (last and end and not stops) and not (number == 0 and _has_length(before)):
            row.append(p.For(step.span, *length))
        if not last:
            row.append(p.Joint(step.span, "then"))
    return row


def _amounts(first: Fraction, step: p.StepBy, end: Fraction) -> Iterator[Fraction]:
    """From the first amount to the end, which is not yielded where it is none."""
    count = (end - first) / (step.sign * step.count.low)
    if count.denominator != 1 or not 1 <= count <= _MOST_STEPS:
        raise Unclear("read.step", step.span)
    for number in range(int(count) + 1):
        if amount := first + number * step.sign * step.count.low:
            yield amount


def _one_amount(before: Sequence[p.Item], step: p.StepBy) -> p.HowMuch:
    amounts = [item for item in before if isinstance(item, p.HowMuch)]
    often = [item for item in before if isinstance(item, p.Firm | p.Times)]
    once = all((item.times if isinstance(item, p.Firm) else item.number) == p.Number(Fraction(1), Fraction(1)) for item in often)
    moments = sum(isinstance(item, p.When | p.Clock) for item in before)
    if len(amounts) != 1 or not once or moments > 1 or any(isinstance(item, p.Pattern | p.ByMeals | p.Until) for item in before):
        raise Unclear("read.step", step.span)
    amount = amounts[0]
    if not (amount.number.exact and step.count.exact and step.count.low > 0) or (step.of and amount.unit and step.of != amount.unit):
        raise Unclear("read.step", step.span)
    if bool(step.of) != bool(amount.unit) and (step.of or amount.unit) in p.MASS:
        raise Unclear("read.unit-missing", step.span)
    return amount


def _length(step: p.StepBy) -> tuple[p.Number, TimeUnit]:
    if step.every is None or not step.every.exact or step.every_unit in (TimeUnit.HOUR, TimeUnit.MINUTE):
        raise Unclear("read.step", step.span)
    return step.every, step.every_unit


def _has_length(before: Sequence[p.Item]) -> bool:
    return any(isinstance(item, p.For | p.Length) for item in before)


def _without_joint(items: Sequence[p.Item]) -> list[p.Item]:
    """ "30 mg daily for 5 days, then | reduce by": the joint before the step says nothing more."""
    row = list(items)
    while row and isinstance(row[-1], p.Joint):
        row.pop()
    if any(isinstance(item, p.Joint) and item.kind == "then" for item in row):
        raise Unclear("read.step", row[0].span)
    return row
