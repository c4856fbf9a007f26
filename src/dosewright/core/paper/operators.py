"""PDF operators as text: rectangles, lines, strings, filled figures. Coordinates are points, up from the lower left corner.

Written directly because a label sheet has a thousand of them: three decimals are a ten-thousandth of an inch. Source: PDF 1.4, chapter 4.
"""

from collections.abc import Sequence
from functools import lru_cache

from dosewright.core.paper.page import MM_PER_POINT

__all__ = ["circle_ops", "figure_ops", "line_ops", "number", "rect_ops", "round_rect_ops", "start_ops"]

# How far a quarter circle's control points lie along its tangents.
_KAPPA = 0.5522847498


@lru_cache(maxsize=8192)
def number(value: float) -> str:
    """Three decimals at most, no exponent, no minus zero. Remembered: the same places come back on every sheet of a stock."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@lru_cache(maxsize=4096)
def start_ops(x: float, baseline: float, height: float) -> str:
    """Where a text begins, in millimetres from the upper left corner of a page that high."""
    return f"1 0 0 1 {number(x / MM_PER_POINT)} {number((height - baseline) / MM_PER_POINT)} Tm"


@lru_cache(maxsize=4096)
def line_ops(x1: float, y1: float, x2: float, y2: float) -> str:
    """A stroked line."""
    return f"{number(x1)} {number(y1)} m {number(x2)} {number(y2)} l S"


@lru_cache(maxsize=4096)
def rect_ops(x: float, y: float, width: float, height: float, paint: str = "S") -> str:
    """A rectangle: `paint` is S to stroke, f to fill."""
    return f"{number(x)} {number(y)} {number(width)} {number(height)} re {paint}"


@lru_cache(maxsize=4096)
def round_rect_ops(x: float, y: float, width: float, height: float, radius: float) -> str:
    """A stroked rectangle with round corners."""
    right, top, bend = x + width, y + height, radius * (1 - _KAPPA)
    corners = (
        ((x + radius, y), (right - radius, y), (right - bend, y), (right, y + bend), (right, y + radius)),
        ((), (right, top - radius), (right, top - bend), (right - bend, top), (right - radius, top)),
        ((), (x + radius, top), (x + bend, top), (x, top - bend), (x, top - radius)),
        ((), (x, y + radius), (x, y + bend), (x + bend, y), (x + radius, y)),
    )
    parts = [f"{_pair(corners[0][0])} m"]
    for _, edge, one, two, end in corners:
        parts.append(f"{_pair(edge)} l {_pair(one)} {_pair(two)} {_pair(end)} c")
    return " ".join((*parts, "h S"))


def circle_ops(radius: float) -> str:
    """A stroked circle round the origin."""
    return round_rect_ops(-radius, -radius, 2 * radius, 2 * radius, radius)


def figure_ops(shapes: Sequence[Sequence[Sequence[tuple[float, float]]]], text: str = "", mark: int | None = None) -> str:
    """Shapes of closed polygons, each filled by the even-odd rule.

    `text` is what they say (PDF 1.4, 10.8.3, replacement text); `mark` the number of their marked content.
    """
    paths = [" ".join((*(_closed(polygon) for polygon in shape), "f*")) for shape in shapes]
    if not text:
        return "\n".join(paths)
    number_of = f" /MCID {mark}" if mark is not None else ""
    said = f"/Span <</ActualText <feff{text.encode('utf-16-be').hex()}>{number_of}>> BDC"
    return "\n".join((said, *paths, "EMC"))


def _closed(polygon: Sequence[tuple[float, float]]) -> str:
    first, *others = polygon
    return " ".join((f"{_pair(first)} m", *(f"{_pair(point)} l" for point in others), "h"))


def _pair(point: tuple[float, ...]) -> str:
    return f"{number(point[0])} {number(point[1])}"
