"""The figures behind the two charts of near misses, gathered from the store for the screen that draws them and for programs."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from dosewright.core.checking.g_chart import GChart, g_chart
from dosewright.core.checking.p_chart import Period, PPoint, Turns, p_chart, period_of, samples
from dosewright.core.checking.turn import Turn
from dosewright.core.custody.near_miss import Origin
from dosewright.store.calendar import day_begins, wall_day
from dosewright.store.near_misses import StoredNearMiss, StoredTurn, load_outcomes_of_checks, load_turns

__all__ = ["Figures", "load_figures"]


@dataclass(frozen=True, slots=True)
class Figures:
    """`points`: weeks or months that are over; `still`: the one that goes on, if it has a check, which is no point yet. `turns` by day."""

    points: tuple[PPoint, ...]
    still: tuple[PPoint, ...]
    runs: GChart
    turns: tuple[StoredTurn, ...]


def load_figures(found: Sequence[StoredNearMiss], by: Period, today: date) -> Figures:
    """Of the near misses given. Only those that a check sent back count among the checks; runs are between any two that people or checks
    noted: what a scan kept out never reached a card."""
    accepted, back = load_outcomes_of_checks()
    sent = [one.at for one in found if one.origin is Origin.CHECK]
    turns = load_turns()
    points = _p_points(accepted, back, sent, by, turns)
    still = tuple(point for point in points if point.sample.first == period_of(today, by))
    noted = (one.at for one in found if one.origin is not Origin.SCAN)
    runs = g_chart(accepted, noted, [day_begins(turn.day) for turn in turns if turn.turn is Turn.ANEW])
    return Figures(points[: len(points) - len(still)], still, runs, turns)


def _p_points(
    accepted: Iterable[datetime], back: Iterable[datetime], sent: Iterable[datetime], by: Period, turns: Sequence[StoredTurn]
) -> tuple[PPoint, ...]:
    checks = [wall_day(at) for at in (*accepted, *back)]
    known = {turn: {period_of(one.day, by) for one in turns if one.turn is turn} for turn in Turn}
    return p_chart(samples(checks, map(wall_day, sent), by), Turns(known[Turn.LEFT_OUT], known[Turn.ANEW]))
