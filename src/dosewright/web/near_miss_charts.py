"""The two charts of near misses with their tables and what they say in words."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from django.utils.safestring import SafeString, mark_safe

from dosewright.actions.near_miss_figures import load_figures
from dosewright.core.checking.control_limits import Limits, least_for_lower_limit
from dosewright.core.checking.g_chart import GChart
from dosewright.core.checking.p_chart import Period, PPoint, period_of
from dosewright.core.checking.turn import Turn
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.store.calendar import wall_day
from dosewright.store.near_misses import StoredNearMiss, StoredTurn
from dosewright.web.control_chart import ChartPoint, draw_chart

__all__ = ["Charts", "NoteLine", "PRow", "RunRow", "near_miss_charts"]

_HUNDREDTH = Fraction(1, 100)
_SHOWN = 30  # points that a chart shows: the latest; limits are reckoned from all
_SETTLED = 20  # points from which limits are taken for settled. Common practice (20 to 25 samples), no source read


@dataclass(frozen=True, slots=True)
class PRow:
    """A week or month: so many checks, so many cards sent back, in 100; the limits in 100, "" where there are none; what is remarkable."""

    first: date
    many: int
    found: int
    share: str
    lower: str
    upper: str
    said: str
    mark: str


@dataclass(frozen=True, slots=True)
class RunRow:
    """A run: it ended at that near miss, after so many cards."""

    at: datetime
    many: int
    upper: str
    said: str
    mark: str


@dataclass(frozen=True, slots=True)
class NoteLine:
    """What changed, by its number on the charts."""

    number: int
    id: int
    day: date
    text: str
    turn: str
    said_by: str


@dataclass(frozen=True, slots=True)
class Charts:
    """Pictures ("" where there is nothing to draw), their tables latest first, what they say, and what changed."""

    title: str
    p_picture: SafeString
    p_said: str
    p_rows: tuple[PRow, ...]
    g_picture: SafeString
    g_said: str
    g_rows: tuple[RunRow, ...]
    notes: tuple[NoteLine, ...]


_TURNS = {Turn.SAID: "", Turn.LEFT_OUT: "left out of the limits", Turn.ANEW: "new limits from here"}


def near_miss_charts(found: Sequence[StoredNearMiss], by: Period, kind: NearMissKind | None, today: date) -> Charts:
    """Of the near misses given. The week or month of `today` is told apart: it is no point before it is over."""
    figures = load_figures(found, by, today)
    points, still, runs, turns = figures.points, figures.still, figures.runs, figures.turns
    numbers = {turn.id: at for at, turn in enumerate(turns, 1)}
    shown, ran = points[-_SHOWN:], runs.runs[-_SHOWN:]
    p_marks = [_numbers(numbers, (turn for turn in turns if period_of(turn.day, by) == point.sample.first)) for point in shown]
    g_marks = _marks_of_runs([wall_day(run.at) for run in ran], turns, numbers)
    return Charts(
        title=_title([*points, *still], kind),
        p_picture=_p_picture(shown, p_marks, by),
        p_said=" ".join(filter(None, (_say_p(points, by), *(_say_still(point, by) for point in still)))),
        p_rows=tuple(_p_row(point, mark) for point, mark in zip(shown, p_marks, strict=True))[::-1],
        g_picture=_g_picture(runs, g_marks),
        g_said=_say_g(runs),
        g_rows=tuple(
            RunRow(run.at, run.many, _whole(run.limits.upper), "longer than chance" if run.side else "", mark)
            for run, mark in zip(ran, g_marks, strict=True)
        )[::-1],
        notes=tuple(NoteLine(numbers[one.id], one.id, one.day, one.text, _TURNS[one.turn], one.said_by) for one in turns),
    )


def _numbers(numbers: dict[int, int], turns: Iterable[StoredTurn]) -> str:
    return ", ".join(str(numbers[turn.id]) for turn in turns)


def _marks_of_runs(days: Sequence[date], turns: Sequence[StoredTurn], numbers: dict[int, int]) -> list[str]:
    """Each change stands at the first run that ended on its day or later."""
    first = {turn.id: next((at for at, day in enumerate(days) if day >= turn.day), None) for turn in turns}
    return [_numbers(numbers, (turn for turn in turns if first[turn.id] == at)) for at in range(len(days))]


def _p_picture(shown: Sequence[PPoint], marks: Sequence[str], by: Period) -> SafeString:
    if not shown:
        return SafeString("")
    form = "%b %Y" if by is Period.MONTH else "%-d %b"
    points = [
        ChartPoint(point.sample.first.strftime(form), point.share, point.limits, point.side, point.counted, mark)
        for point, mark in zip(shown, marks, strict=True)
    ]
    return mark_safe(draw_chart(points, f"Cards sent back in 100 checks, by {by.value}; the table beside it has the figures.", _HUNDREDTH))  # noqa: S308


def _g_picture(chart: GChart, marks: Sequence[str]) -> SafeString:
    ran = chart.runs[-_SHOWN:]
    if not ran:
        return SafeString("")
    points = [ChartPoint(f"{wall_day(run.at):%-d %b}", Fraction(run.many), run.limits, run.side, mark=mark)
              for run, mark in zip(ran, marks, strict=True)]  # fmt: skip
    points.append(ChartPoint("now", Fraction(chart.going_on), chart.limits, chart.side, counted=False))
    return mark_safe(draw_chart(points, "Cards accepted between two near misses; the table beside it has the figures.", Fraction(1)))  # noqa: S308


def _p_row(point: PPoint, mark: str) -> PRow:
    lower = _hundredths(point.limits.lower) if point.limits and point.limits.lower else ""
    said = {1: "above the upper limit", -1: "below the lower limit", 0: ""}[point.side]
    left_out = "" if point.counted or point.limits is None else "left out of the limits"
    return PRow(
        first=point.sample.first,
        many=point.sample.many,
        found=point.sample.found,
        share=_hundredths(point.share) if point.share is not None else "",
        lower=lower,
        upper=_hundredths(point.limits.upper) if point.limits else "",
        said=", ".join(filter(None, (said, left_out))),
        mark=mark,
    )


def _hundredths(value: Fraction) -> str:
    """ "5.6": so many in a hundred, one decimal, half up."""
    tenths = (value * 1000 + Fraction(1, 2)) // 1
    return f"{tenths // 10}.{tenths % 10}"


def _whole(value: Fraction) -> str:
    return str(value // 1)


def _title(points: Sequence[PPoint], kind: NearMissKind | None) -> str:
    many, found = sum(point.sample.many for point in points), sum(point.sample.found for point in points)
    about = f", {kind.value}" if kind else ""
    return f"{found} of {many} check{'' if many == 1 else 's'} sent a card back{about}" if many else "No card has been checked yet"


def _say_p(points: Sequence[PPoint], by: Period) -> str:
    limits = next((point.limits for point in reversed(points) if point.limits), None)
    if limits is None:
        return ""
    beyond = [point for point in points[-_SHOWN:] if point.side]
    if beyond:
        said = f"{len(beyond)} {by.value}{'s lie' if len(beyond) > 1 else ' lies'} beyond the limits: look for what was different then."
    else:
        said = f"No {by.value} lies beyond its limits: the share moves as chance moves it."
    return " ".join((said, *_about_limits(points, limits, by)))


def _say_still(point: PPoint, by: Period) -> str:
    many, found = point.sample.many, point.sample.found
    return f"This {by.value} so far: {many} check{'' if many == 1 else 's'}, {found} sent back."


def _about_limits(points: Sequence[PPoint], limits: Limits, by: Period) -> Iterable[str]:
    if sum(point.counted for point in points) < _SETTLED:
        yield f"The limits rest on few {by.value}s and will still move."
    if limits.centre and not any(point.limits and point.limits.lower for point in points):
        yield (
            f"No {by.value} has a lower limit: at this share it takes {least_for_lower_limit(limits.centre)} checks, "
            "so look at the runs below to see whether the work got better."
        )


def _say_g(chart: GChart) -> str:
    if chart.limits is None:
        return ""
    mean = chart.limits.centre
    said = f"{_tenths(mean)} cards are accepted between two near misses on average; since the latest it is {chart.going_on}."
    if chart.side:
        return f"{said} That is longer than chance explains: the work got better, or less is noted."
    return said


def _tenths(value: Fraction) -> str:
    tenths = (value * 10 + Fraction(1, 2)) // 1
    return f"{tenths // 10}" + (f".{tenths % 10}" if tenths % 10 else "")
