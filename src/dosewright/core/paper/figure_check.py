"""Figures of a finished PDF against those that were meant: the same black, and the same words where they are letters.

Comes in: a page as meant and as PDFium has it. Goes out: the figures that differ. The picture is PDFium's, what it is held against is
drawn by Pillow; a dot's width on either side of an edge is left to them. What lies between a figure's shapes is not looked at: other things
may stand there.
"""

import ctypes
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy
import numpy.typing
import pypdfium2
import pypdfium2.raw as pdfium
from PIL import Image, ImageChops, ImageDraw, ImageFilter

from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.outlined import outlined_runs
from dosewright.core.paper.page import MM_PER_POINT, Figure, Page, Rect

__all__ = ["find_odd_figures"]

_ORNAMENT_DPI, _LETTER_DPI = 300, 1200  # letters are looked at from near: a dot over one makes it another
_FEW = 0.002  # share of the dots that may differ besides the edges
_LONGEST = 4000  # bytes of a replacement text
_NEAR = 0.1  # mm
_ROUNDING = 0.01  # of a dot: the renderer takes the next whole one
_BESIDE = 0.3  # mm beside the shapes of an ornament that must be white: less than to the label's edge
_AROUND = 0.5  # mm that are looked at beyond a figure's own rectangle

Dots = numpy.typing.NDArray[Any]


def find_odd_figures(page: Page, read: pypdfium2.PdfPage, fonts: FontSet) -> Iterator[Figure]:
    """The figures that are not drawn as meant, or do not say what they should; and any that nobody asked for."""
    figures, said = (*page.figures, *outlined_runs(page, fonts)), list(_said_on(read))
    if figures or said:
        yield from _odd_on(figures, read, said)


def _odd_on(figures: Sequence[Figure], read: pypdfium2.PdfPage, said: list[tuple[str, Rect]]) -> Iterator[Figure]:
    for figure in figures:
        mine = [one for one in said if figure.text and one[0] == figure.text and _inside(one[1], figure.box)]
        said = [one for one in said if one not in mine]
        if (figure.text and len(mine) != len(figure.shapes)) or _is_drawn_otherwise(figure, read):
            yield figure
    yield from (Figure((), rect, text) for text, rect in said)


def _said_on(page: pypdfium2.PdfPage) -> Iterator[tuple[str, Rect]]:
    """Shapes that stand for text: what they say, and where they lie."""
    height = page.get_height()
    for found in page.get_objects(filter=(pdfium.FPDF_PAGEOBJ_PATH,)):
        if text := _replacement_text(found.raw):
            left, bottom, right, top = (side * MM_PER_POINT for side in found.get_bounds())
            yield text, Rect(left, height * MM_PER_POINT - top, right - left, top - bottom)


def _replacement_text(raw: Any) -> str:
    for number in range(pdfium.FPDFPageObj_CountMarks(raw)):
        mark, length = pdfium.FPDFPageObj_GetMark(raw, number), ctypes.c_ulong()
        said = (ctypes.c_ubyte * _LONGEST)()
        if pdfium.FPDFPageObjMark_GetParamBlobValue(mark, b"ActualText", said, _LONGEST, length):
            return bytes(said[: length.value]).decode("utf-16", "replace")  # the byte order mark says which
    return ""


def _inside(rect: Rect, box: Rect) -> bool:
    across = rect.left >= box.left - _NEAR and rect.right <= box.right + _NEAR
    return across and rect.top >= box.top - _NEAR and rect.bottom <= box.bottom + _NEAR


def _is_drawn_otherwise(figure: Figure, page: pypdfium2.PdfPage) -> bool:
    """Whether dots well inside a shape are white, or dots well outside all shapes, yet beside one, are black."""
    seen, place = _seen(page, figure)
    meant, near = _as_meant(figure, place, (seen.shape[1], seen.shape[0]), 0.0 if figure.text else _BESIDE)
    inner, outer, beside = (numpy.asarray(picture) > 0 for picture in (*(meant.filter(grown) for grown in _GROWN), near))
    wrong = (inner & ~seen) | (seen & ~outer & beside)
    return bool(wrong.sum() > _FEW * beside.sum())


_GROWN = (ImageFilter.MinFilter(3), ImageFilter.MaxFilter(3))
_Place = Callable[[float, float], tuple[float, float]]  # from millimetres on the page to dots of a picture of part of it


def _seen(page: pypdfium2.PdfPage, figure: Figure) -> tuple[Dots, _Place]:
    """Black dots of the page round the figure. The renderer stretches the page to whole dots, and so does the place."""
    scale = (_LETTER_DPI if figure.text else _ORNAMENT_DPI) / 72
    wide, high = (math.ceil(side * scale) for side in page.get_size())
    across, down = (dots / side / MM_PER_POINT for dots, side in zip((wide, high), page.get_size(), strict=True))
    left, top = max(0, int((figure.box.left - _AROUND) * across)), max(0, int((figure.box.top - _AROUND) * down))
    right, bottom = max(0, int(wide - (figure.box.right + _AROUND) * across)), max(0, int(high - (figure.box.bottom + _AROUND) * down))
    crop = tuple((side - _ROUNDING) / scale for side in (left, bottom, right, top))
    picture = page.render(scale=scale, crop=crop, grayscale=True).to_pil()
    return numpy.asarray(picture) < 128, lambda x, y: (x * across - left, y * down - top)


def _as_meant(figure: Figure, place: _Place, size: tuple[int, int], beside: float) -> tuple[Image.Image, Image.Image]:
    """All shapes as dots, and the rectangles in which they lie, larger on each side by so many millimetres."""
    whole, near = Image.new("L", size, 0), Image.new("L", size, 0)
    for shape in figure.shapes:
        polygons = [[place(x, y) for x, y in polygon] for polygon in shape]
        left, top = (min(point[axis] for polygon in polygons for point in polygon) for axis in (0, 1))
        right, bottom = (max(point[axis] for polygon in polygons for point in polygon) for axis in (0, 1))
        more = beside * _ORNAMENT_DPI / 25.4
        ImageDraw.Draw(near).rectangle((left - more, top - more, right + more, bottom + more), fill=255)
        part = (int(left), int(top), int(right) + 2, int(bottom) + 2)
        whole.paste(255, part[:2], _even_odd(polygons, part))
    return whole, near


def _even_odd(polygons: Sequence[Sequence[tuple[float, float]]], part: tuple[int, int, int, int]) -> Image.Image:
    """The polygons of one shape over each other: what an odd number of them covers."""
    covered = Image.new("1", (part[2] - part[0], part[3] - part[1]), 0)
    for polygon in polygons:
        one = Image.new("1", covered.size, 0)
        ImageDraw.Draw(one).polygon([(x - part[0], y - part[1]) for x, y in polygon], fill=1)
        covered = ImageChops.logical_xor(covered, one)
    return covered
