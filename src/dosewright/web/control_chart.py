"""A control chart as an SVG picture: points joined in order, the centre line, both limits as steps, marks where something changed.

Comes in: what each point is, exact. Goes out: SVG text of numbers and of the caller's words, escaped. A point beyond its limits is
a square with the word beside it, one that is left out of the limits is hollow: nothing is told by colour alone. The table with the same
data is the template's.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html import escape

from dosewright.core.checking.control_limits import Limits, Side

__all__ = ["ChartPoint", "draw_chart"]

_WIDTH, _HEIGHT = 760, 320  # of the drawing's own units; it is as wide as its place
_LEFT, _RIGHT, _TOP, _FOOT = 64, 76, 34, 46  # what is kept free for words
_LABELS = 7  # most labels below
_STEPS = (1, 2, 5)
_WORDS: dict[Side, str] = {1: "above", -1: "below", 0: ""}


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """`label` stands below it, `mark` above it ("1, 2": the numbers of what changed then). `value` None: nothing to draw there."""

    label: str
    value: Fraction | None
    limits: Limits | None
    side: Side
    counted: bool = True
    mark: str = ""


def draw_chart(points: Sequence[ChartPoint], title: str, unit: Fraction) -> str:
    """The picture; `title` says in words what it shows. The scale counts in `unit` (1/100: "5" stands for 5 in 100)."""
    place = _Place(len(points), _highest(points), unit)
    parts = [*_scale(place), *_labels(points, place), *_lines(points, place), *_marks(points, place), *_path(points, place)]
    parts += [_dot(at, point, place) for at, point in enumerate(points) if point.value is not None]
    inner = "".join(parts)
    return f'<svg class="chart" viewBox="0 0 {_WIDTH} {_HEIGHT}" role="img" aria-label="{escape(title)}">{inner}</svg>'


@dataclass(frozen=True, slots=True)
class _Place:
    """Where things lie: `many` points across, values up to `top`."""

    many: int
    top: Fraction
    unit: Fraction

    def x(self, at: float) -> str:
        """The middle of a point's own share of the width; halves lie between two points."""
        return _number(_LEFT + (at + 0.5) * (_WIDTH - _LEFT - _RIGHT) / max(self.many, 1))

    def y(self, value: Fraction) -> str:
        """From the foot upwards."""
        return _number(_HEIGHT - _FOOT - float(value / self.top) * (_HEIGHT - _TOP - _FOOT))


def _number(value: float) -> str:
    return f"{value:.1f}"


def _highest(points: Iterable[ChartPoint]) -> Fraction:
    values = [value for point in points for value in (point.value, point.limits.upper if point.limits else None) if value is not None]
    return max(values, default=Fraction(0)) * Fraction(11, 10) or Fraction(1)


def _scale(place: _Place) -> Iterator[str]:
    """Whole units, about five of them, each with its line."""
    for count in _ticks(place.top / place.unit):
        y = place.y(count * place.unit)
        yield f'<line class="grid" x1="{_LEFT}" x2="{_WIDTH - _RIGHT}" y1="{y}" y2="{y}"/>'
        yield f'<text class="axis" text-anchor="end" x="{_LEFT - 8}" y="{y}" dy="5">{count}</text>'


def _ticks(top: Fraction) -> range:
    step = next(power * one for power in (10**digits for digits in range(12)) for one in _STEPS if top / (power * one) <= 6)
    return range(0, int(top) + 1, step)


def _labels(points: Sequence[ChartPoint], place: _Place) -> Iterator[str]:
    every = max(-(-len(points) // _LABELS), 1)
    for at in range(0, len(points), every):
        yield f'<text class="axis" text-anchor="middle" x="{place.x(at)}" y="{_HEIGHT - _FOOT + 24}">{escape(points[at].label)}</text>'


def _lines(points: Sequence[ChartPoint], place: _Place) -> Iterator[str]:
    """Each line in steps, broken where there are no limits; its name at the right end."""
    for name, word in (("upper", "upper limit"), ("centre", "on average"), ("lower", "lower limit")):
        if name == "lower" and not any(point.limits and point.limits.lower for point in points):
            continue  # it lies on the foot, and limits nothing
        steps, last = [], None
        for at, point in enumerate(points):
            if point.limits is None:
                continue
            last = getattr(point.limits, name)
            joined = at > 0 and points[at - 1].limits is not None
            steps.append(f"{'L' if joined else 'M'}{place.x(at - 0.5)} {place.y(last)}L{place.x(at + 0.5)} {place.y(last)}")
        if last is not None:
            yield f'<path class="{name}" d="{"".join(steps)}"/>'
            yield from _named(word, last, place)


def _named(word: str, value: Fraction, place: _Place) -> Iterator[str]:
    first, second = word.split(" ")
    x, y = _WIDTH - _RIGHT + 6, place.y(value)
    yield f'<text class="axis" x="{x}" y="{y}" dy="-2">{first}</text><text class="axis" x="{x}" y="{y}" dy="13">{second}</text>'


def _marks(points: Sequence[ChartPoint], place: _Place) -> Iterator[str]:
    for at, point in enumerate(points):
        if point.mark:
            x = place.x(at)
            yield f'<line class="mark" x1="{x}" x2="{x}" y1="{_TOP - 6}" y2="{_HEIGHT - _FOOT}"/>'
            yield f'<text class="mark" text-anchor="middle" x="{x}" y="{_TOP - 12}">{escape(point.mark)}</text>'


def _path(points: Sequence[ChartPoint], place: _Place) -> Iterator[str]:
    steps, joined = [], False
    for at, point in enumerate(points):
        if point.value is not None:
            steps.append(f"{'L' if joined else 'M'}{place.x(at)} {place.y(point.value)}")
        joined = point.value is not None
    yield f'<path class="run" d="{"".join(steps)}"/>'


def _dot(at: int, point: ChartPoint, place: _Place) -> str:
    x, y = place.x(at), place.y(point.value or Fraction(0))
    hollow = "" if point.counted else " hollow"
    if not point.side:
        return f'<circle class="point{hollow}" cx="{x}" cy="{y}" r="5"/>'
    left, top = _number(float(x) - 7), _number(float(y) - 7)
    word = f'<text class="beyond" text-anchor="middle" x="{x}" y="{y}" dy="{-13 if point.side > 0 else 24}">{_WORDS[point.side]}</text>'
    return f'<rect class="beyond{hollow}" x="{left}" y="{top}" width="14" height="14"/>{word}'
