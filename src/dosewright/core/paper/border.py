"""Borders of black shapes round a label, so that two people's cards can be told apart without reading: a dozen that differ in kind.

Comes in: a rectangle, the border's width, a pattern. Goes out: filled shapes in millimetres. They mean nothing but "this person's".
"""

import math
from collections.abc import Callable, Iterator
from enum import StrEnum

from dosewright.core.paper.page import Figure, Polygon, Rect

__all__ = ["BORDER", "Pattern", "border_round", "border_shapes"]

_OUTSIDE = 1.4  # mm from what is printed on a sheet to the border in its margin
BORDER = 3.0  # mm: wide enough to be told apart at arm's length (our own proposal)


class Pattern(StrEnum):
    """One border each. They differ in shape, not only in spacing: copies, creases and weak eyes leave them apart."""

    BAND = "band"
    TWO_LINES = "two lines"
    SQUARES = "squares"
    DASHES = "dashes"
    RINGS = "rings"
    TRIANGLES = "triangles"
    LOZENGES = "lozenges"
    BARS = "bars"
    SLANTS = "slants"
    ZIGZAG = "zigzag"
    CROSSES = "crosses"
    CHEQUERS = "chequers"


Shape = tuple[Polygon, ...]  # its contours, filled by the even-odd rule

# One tile of the border, lying on its outer edge: shapes within a square of side 1, x along the edge, y from the outside inwards.
Tile = tuple[Shape, ...]


def _box(left: float, top: float, right: float, bottom: float) -> Shape:
    return (((left, top), (right, top), (right, bottom), (left, bottom)),)


def _ring() -> Shape:
    turns = [math.tau * n / 24 for n in range(24)]
    return tuple(tuple((0.5 + radius * math.cos(turn), 0.5 + radius * math.sin(turn)) for turn in turns) for radius in (0.48, 0.26))


_TILES: dict[Pattern, Tile] = {
    Pattern.BAND: (_box(0, 0.1, 1, 0.9),),
    Pattern.TWO_LINES: (_box(0, 0.05, 1, 0.3), _box(0, 0.7, 1, 0.95)),
    Pattern.SQUARES: (_box(0.22, 0.22, 0.78, 0.78),),
    Pattern.DASHES: (_box(0.1, 0.35, 0.9, 0.65),),
    Pattern.RINGS: (_ring(),),
    Pattern.TRIANGLES: ((((0.02, 0.95), (0.5, 0.05), (0.98, 0.95)),),),
    Pattern.LOZENGES: ((((0.5, 0.02), (0.98, 0.5), (0.5, 0.98), (0.02, 0.5)),),),
    Pattern.BARS: (_box(0.1, 0, 0.32, 1), _box(0.6, 0, 0.82, 1)),
    Pattern.SLANTS: ((((0.0, 1.0), (0.6, 0.0), (0.95, 0.0), (0.35, 1.0)),),),
    Pattern.ZIGZAG: ((((0, 0.6), (0.5, 0.0), (1, 0.6), (1, 1), (0.5, 0.4), (0, 1)),),),
    Pattern.CROSSES: (_box(0.1, 0.42, 0.9, 0.58), _box(0.42, 0.1, 0.58, 0.42), _box(0.42, 0.58, 0.58, 0.9)),
    Pattern.CHEQUERS: (_box(0, 0, 0.5, 0.5), _box(0.5, 0.5, 1, 1)),
}

Turn = Callable[[float, float], tuple[float, float]]


def border_shapes(rect: Rect, pattern: Pattern, width: float = BORDER) -> tuple[Shape, ...]:
    """The border inside the rectangle's edge; tiles are stretched a little, so that each side has a whole number of them."""
    return tuple(
        tuple(tuple(turn(x, y) for x, y in contour) for contour in shape)
        for length, turn in _sides(rect, width)
        for shape in _along(length, width, _TILES[pattern])
    )


def border_round(page: Rect, pattern: Pattern | None) -> tuple[Figure, ...]:
    """The border in the margin round a whole sheet, where it takes no room from what the sheet says; nothing without a pattern."""
    if pattern is None:
        return ()
    edge = page.inset(-_OUTSIDE - BORDER, -_OUTSIDE - BORDER)
    return (Figure(border_shapes(edge, pattern), edge),)


def _sides(rect: Rect, width: float) -> Iterator[tuple[float, Turn]]:
    """Each side's length with its way from (along, inwards) to the page; upright sides stand between the level ones."""
    upright = rect.height - 2 * width
    yield rect.width, lambda x, y: (rect.left + x, rect.top + y)
    yield rect.width, lambda x, y: (rect.right - x, rect.bottom - y)
    yield upright, lambda x, y: (rect.left + y, rect.bottom - width - x)
    yield upright, lambda x, y: (rect.right - y, rect.top + width + x)


def _along(length: float, width: float, tile: Tile) -> Iterator[Shape]:
    count = max(1, round(length / width))
    step = length / count
    for n in range(count):
        for shape in tile:
            yield tuple(tuple(((n + x) * step, y * width) for x, y in contour) for contour in shape)
