"""The share of checks that sent a card back, period by period, with its limits (a p-chart).

Comes in: the days of all checks and of those that sent a card back; what is known to have changed. Goes out: one point a period, in order.
Source: STANDARDS.md 9.3; limits are recomputed without a period whose cause is known, as in Montgomery's example 6-1.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from dosewright.core.checking.control_limits import Limits, Side, p_limits, p_side

__all__ = ["PPoint", "Period", "Sample", "Turns", "p_chart", "period_of", "samples"]


class Period(StrEnum):
    """What one point stands for."""

    WEEK = "week"
    MONTH = "month"


@dataclass(frozen=True, slots=True)
class Sample:
    """A period by its first day: how many checks, and how many of them sent the card back. Raises ValueError where that cannot be."""

    first: date
    many: int
    found: int

    def __post_init__(self) -> None:
        if not 0 <= self.found <= self.many:
            raise ValueError(f"{self.found} of {self.many} checks cannot be")


@dataclass(frozen=True, slots=True)
class Turns:
    """First days of periods: those left out of the limits because their cause is known, and those from which new limits count."""

    left_out: Collection[date] = ()
    anew: Collection[date] = ()


@dataclass(frozen=True, slots=True)
class PPoint:
    """`share` and `limits` are None where nothing was checked. `counted`: whether the limits were computed from it as well."""

    sample: Sample
    share: Fraction | None
    limits: Limits | None
    side: Side
    counted: bool


def period_of(day: date, by: Period) -> date:
    """The first day of the week (Monday) or month that the day belongs to."""
    return day.replace(day=1) if by is Period.MONTH else day - timedelta(days=day.weekday())


def samples(checks: Iterable[date], found: Iterable[date], by: Period) -> tuple[Sample, ...]:
    """Every period from the first check to the last, those without a check too. Raises ValueError for more found than checked."""
    many, back = Counter(period_of(day, by) for day in checks), Counter(period_of(day, by) for day in found)
    days = [*many, *back]
    if not days:
        return ()
    return tuple(Sample(first, many[first], back[first]) for first in _periods(min(days), max(days), by))


def _periods(first: date, last: date, by: Period) -> Iterator[date]:
    while first <= last:
        yield first
        first = period_of(first + timedelta(days=7 if by is Period.WEEK else 31), by)


def p_chart(drawn: Sequence[Sample], turns: Turns | None = None) -> tuple[PPoint, ...]:
    """A point for each sample, in the same order; limits run from one `anew` to the next."""
    known = turns or Turns()
    points: list[PPoint] = []
    for part in _parts(drawn, known.anew):
        points += _part(part, known.left_out)
    return tuple(points)


def _parts(drawn: Sequence[Sample], anew: Collection[date]) -> Iterator[Sequence[Sample]]:
    starts = [at for at, sample in enumerate(drawn) if at == 0 or sample.first in anew]
    for start, end in pairwise([*starts, len(drawn)]):
        yield drawn[start:end]


def _part(part: Sequence[Sample], left_out: Collection[date]) -> Iterator[PPoint]:
    counted = [sample for sample in part if sample.first not in left_out]
    many = sum(sample.many for sample in counted)
    share = Fraction(sum(sample.found for sample in counted), many) if many else None
    for sample in part:
        if sample.many == 0 or share is None:
            own = Fraction(sample.found, sample.many) if sample.many else None
            yield PPoint(sample, own, None, 0, counted=False)
        else:
            own, limits = Fraction(sample.found, sample.many), p_limits(share, sample.many)
            yield PPoint(sample, own, limits, p_side(sample.found, sample.many, share), counted=sample.first not in left_out)
