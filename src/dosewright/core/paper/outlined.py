"""Runs in scripts that must be shaped, as figures: outlines of letters where the run's baseline is, with the text that they say.

Comes in: a page and its fonts. Goes out: one figure for each such run; runs in other scripts stay text.
"""

from collections.abc import Iterator

from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.page import MM_PER_POINT, Figure, Page, Polygon, Rect, Run
from dosewright.core.paper.shaping import ShapedFont

__all__ = ["outline_of", "outlined_runs"]


def outlined_runs(page: Page, fonts: FontSet) -> Iterator[Figure]:
    """The page's shaped runs, in order; a figure's box is the rectangle of its ink."""
    for run in page.runs:
        font = fonts.font_for(run.text, run.face)
        if isinstance(font, ShapedFont):
            yield outline_of(run, font)


def outline_of(run: Run, font: ShapedFont) -> Figure:
    """One shaped run; a run without ink has a box of no size."""
    scale = run.size * MM_PER_POINT / 1000
    shapes = tuple(tuple(_placed(contour, run, scale) for contour in glyph) for glyph in font.shape(run.text).glyphs)
    points = [point for shape in shapes for contour in shape for point in contour] or [(run.x, run.baseline)]
    left, top = min(x for x, _ in points), min(y for _, y in points)
    return Figure(shapes, Rect(left, top, max(x for x, _ in points) - left, max(y for _, y in points) - top), run.text)


def _placed(contour: Polygon, run: Run, scale: float) -> Polygon:
    return tuple((run.x + x * scale, run.baseline - y * scale) for x, y in contour)
