"""How many cards were accepted between one near miss and the next (a g-chart): for what is too rare to be counted by the week.

Comes in: the moments at which cards were accepted and at which near misses were noted. Goes out: one run for each near miss but the first,
and the run that still goes on. Source: STANDARDS.md 9.3 (Benneyan).
"""

from bisect import bisect_left
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from itertools import pairwise

from dosewright.core.checking.control_limits import Limits, Side, g_limits, g_side

__all__ = ["GChart", "Run", "g_chart"]


@dataclass(frozen=True, slots=True)
class Run:
    """`many` cards accepted from one near miss until the next, which came at `at`. `limits` are those of its part of the chart."""

    at: datetime
    many: int
    limits: Limits
    side: Side


@dataclass(frozen=True, slots=True)
class GChart:
    """`going_on`: cards accepted since the latest near miss, and on which side of the limits that lies already.

    What came before the first near miss is no run: nobody knows when it began. `limits` None: there is no run to reckon with yet.
    """

    runs: tuple[Run, ...]
    going_on: int
    limits: Limits | None
    side: Side


def g_chart(accepted: Iterable[datetime], noted: Iterable[datetime], anew: Collection[datetime] = ()) -> GChart:
    """The chart. From each moment of `anew` on, limits are reckoned from the runs that end after it only."""
    cards, events = sorted(accepted), sorted(noted)
    counts = [(end, bisect_left(cards, end) - bisect_left(cards, start)) for start, end in pairwise(events)]
    runs: list[Run] = []
    for part in _parts(counts, sorted(anew)):
        runs += _part(part)
    since = len(cards) - bisect_left(cards, events[-1]) if events else len(cards)
    last = runs[-1].limits if runs else None
    return GChart(tuple(runs), since, last, g_side(since, last.centre) if last else 0)


def _parts(counts: Sequence[tuple[datetime, int]], anew: Sequence[datetime]) -> Iterable[Sequence[tuple[datetime, int]]]:
    cuts = [0, *(bisect_left(counts, (moment,)) for moment in anew), len(counts)]
    return (counts[start:end] for start, end in pairwise(cuts) if start < end)


def _part(part: Sequence[tuple[datetime, int]]) -> Iterable[Run]:
    mean = Fraction(sum(many for _, many in part), len(part))
    limits = g_limits(mean)
    return (Run(at, many, limits, g_side(many, mean)) for at, many in part)
