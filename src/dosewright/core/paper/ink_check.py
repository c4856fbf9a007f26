"""The black of a finished page against what was meant, seen as a picture: what letters' places in the file cannot tell.

A text may be in the file and yet not be seen: white, invisible, cut off, under something. So each run must be as black as its letters
are, neither less nor more; every line, box and dial must be seen where it was meant; and there may be no ink that nobody asked for, be it
an annotation's. Codes and letters of shaped scripts are looked at elsewhere. Comes in: a page as meant and as PDFium draws it. Goes out:
findings.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import Any

import numpy
import numpy.typing
import pypdfium2
from PIL import Image, ImageDraw, ImageFont

from dosewright.core.paper.dial import hand, night_chords
from dosewright.core.paper.fonts import Font
from dosewright.core.paper.page import Code, Dial, Figure, Line, Page, Place, Rect, Run, Shade, Stroke
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["check_ink"]

Dots = numpy.typing.NDArray[Any]

_DPI = 100
_MM = _DPI / 25.4  # dots, nearly: the renderer stretches a page to whole ones
_WIDTHS = {Stroke.HAIR: 1, Stroke.PLAIN: 1, Stroke.HEAVY: 2}  # dots of a line's core; what is beside it is left to the edges
_BESIDE = 2  # dots: how much thicker what is allowed is than what was meant, both sides together
_RIM, _HAND = 0.12, 0.24  # of a dial's radius: how thick they are drawn
_BLACK = 13  # of 255: a dot as dark as that has ink
_FEW = 5  # dots with ink that may lie farther out: ends and corners of lines
_ONE = 1  # dot of a line's core that may be white: on what ships it is none
_LIGHTER, _DARKER = 0.97, 1.05  # of the ink of a run's letters: what the two renderers leave between them
_LEVEL = 0.97  # of a level stroke is left at its edges: seen where a run is nothing but underscores
_DUST = 2.0  # dots' worth of ink likewise: a comma alone is a few dots
_HATCHED = 0.03  # share of ink inside a hatched place, as in the recount of boxes
_DRAWN = 200  # dots high when FreeType draws a letter


def check_ink(
    page: Page, picture: pypdfium2.PdfPage, runs: Iterable[tuple[Rect, Run, Font | None]], where: dict[str, Fact]
) -> Iterator[Finding]:
    """Every difference. `runs`: the page's runs with the rectangle of their ink, and their font where it is letters that are drawn."""
    seen = 255 - numpy.asarray(picture.render(scale=_DPI / 72, grayscale=True).to_pil())
    grid = _Grid(seen.shape[1], seen.shape[0], page.width, page.height)
    frame = _frame_of(_Frame.of(page), grid)
    allowed = frame.allowed.copy()
    for ink, run, font in runs:
        grid.part(allowed, ink, 1)[...] = True
        if font is not None and not _as_black(seen, ink, grid, _area(font, run.text) * (run.size * _DPI / 72) ** 2):
            yield Finding("paper.text-not-as-black", Severity.STOP, where, {"text": run.text})
    black = seen >= _BLACK
    if int((black & ~allowed).sum()) > _FEW:
        yield Finding("paper.ink-nobody-asked-for", Severity.STOP, where)
    if int((frame.core & ~_grown(black)).sum()) > _ONE or not _all_hatched(page, seen, grid):
        yield Finding("paper.line-missing", Severity.STOP, where)


@dataclass(frozen=True, slots=True)
class _Grid:
    """So many dots across and down for a page of so many millimetres."""

    across: int
    down: int
    width: float
    height: float

    def at(self, x: float, y: float) -> tuple[int, int]:
        """The dot in which a point lies."""
        return int(x * self.across / self.width), int(y * self.down / self.height)

    def corners(self, rect: Rect) -> tuple[tuple[int, int], tuple[int, int]]:
        return self.at(rect.left, rect.top), self.at(rect.right, rect.bottom)

    def part(self, dots: Dots, rect: Rect, more: int = 0) -> Dots:
        """The dots that a rectangle touches, and so many more on each side."""
        (left, top), (right, bottom) = self.corners(rect)
        return dots[max(0, top - more) : bottom + 1 + more, max(0, left - more) : right + 1 + more]


def _as_black(seen: Dots, ink: Rect, grid: _Grid, meant: float) -> bool:
    """Enough ink in the rectangle, or with the dots round it; not too much within."""
    least, most, close = meant * _LIGHTER - _DUST, meant * _DARKER + _DUST, float(grid.part(seen, ink).sum()) / 255
    return close <= most and (close >= least or float(grid.part(seen, ink, 1).sum()) / 255 >= least)


@lru_cache(maxsize=8192)
def _area(font: Font, text: str) -> float:
    """How much of a square as high as the type its letters cover."""
    return sum(_letter_area(font, letter) for letter in text)


@lru_cache(maxsize=4096)
def _letter_area(font: Font, letter: str) -> float:
    dots = numpy.asarray(_reader(font).getmask(letter, mode="L"), dtype=numpy.float64)
    return float(dots.sum()) / 255 / _DRAWN**2 * (_LEVEL if letter == "_" else 1)


@lru_cache(maxsize=16)
def _reader(font: Font) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(BytesIO(font.data), _DRAWN, layout_engine=ImageFont.Layout.BASIC)


@dataclass(frozen=True, slots=True)
class _Frame:
    """What is drawn on a page and is not letters; pages that have the same need it only once."""

    places: tuple[Place, ...]
    lines: tuple[Line, ...]
    dials: tuple[Dial, ...]
    codes: tuple[Code, ...]
    figures: tuple[Figure, ...]

    @staticmethod
    def of(page: Page) -> "_Frame":
        return _Frame(page.places, page.lines, page.dials, page.codes, page.figures)


@dataclass(frozen=True, slots=True)
class _Meant:
    """`core`: dots that must have ink in them or beside them. `allowed`: dots that may have some."""

    core: Dots
    allowed: Dots


@lru_cache(maxsize=16)
def _frame_of(frame: _Frame, grid: _Grid) -> _Meant:
    """The cores of lines are drawn thin, and what is allowed a dot and a half thicker than they are, on either side."""
    core, allowed = (Image.new("1", (grid.across, grid.down), 0) for _ in range(2))
    draw, wide = ImageDraw.Draw(core), ImageDraw.Draw(allowed)
    for place in frame.places:
        _draw_place(draw, grid, place, 1)
        _draw_place(wide, grid, place, _WIDTHS[place.stroke] + _BESIDE)
        if place.shade is Shade.HATCHED:
            wide.rectangle(grid.corners(place.rect), fill=1)
    for line in frame.lines:
        _draw_line(draw, grid, line, 1)
        _draw_line(wide, grid, line, _WIDTHS[line.stroke] + _BESIDE)
    for dial in frame.dials:
        _draw_dial(draw, grid, dial, 0)
        _draw_dial(wide, grid, dial, _BESIDE)
    for code in frame.codes:
        wide.rectangle(grid.corners(code.rect), fill=1)
    for polygon in (polygon for figure in frame.figures for shape in figure.shapes for polygon in shape):
        wide.polygon([grid.at(x, y) for x, y in polygon], fill=1, outline=1, width=_BESIDE)
    return _Meant(numpy.asarray(core, dtype=bool), _grown(numpy.asarray(allowed, dtype=bool)))


def _draw_place(draw: ImageDraw.ImageDraw, grid: _Grid, place: Place, width: int) -> None:
    """Pillow draws an outline inwards."""
    more = (width // 2) / _MM
    radius = (place.radius + more) * _MM if place.radius else 0
    draw.rounded_rectangle(grid.corners(place.rect.inset(-more, -more)), radius, outline=1, width=width)


def _draw_line(draw: ImageDraw.ImageDraw, grid: _Grid, line: Line, width: int) -> None:
    draw.line([grid.at(line.x1, line.y1), grid.at(line.x2, line.y2)], fill=1, width=width)


def _draw_dial(draw: ImageDraw.ImageDraw, grid: _Grid, dial: Dial, more: int) -> None:
    def at(across: float, up: float) -> tuple[float, float]:
        return grid.at(dial.x + across * dial.radius, dial.y - up * dial.radius)

    rim, thick = (round(share * dial.radius * _MM) if more else 1 for share in (_RIM, _HAND))
    reach = 1 + (rim + more) // 2 / (dial.radius * _MM)
    (across, up), cap = hand(dial.at), 1 + _HAND / 2 if more else 1.0  # the hand's ends are square
    draw.ellipse((at(-reach, reach), at(reach, -reach)), outline=1, width=rim + more)
    draw.line([at(across * (1 - cap), up * (1 - cap)), at(across * cap, up * cap)], fill=1, width=thick + more)
    for left, right, height in night_chords():
        draw.line([at(left, height), at(right, height)], fill=1, width=1 + more)


def _all_hatched(page: Page, seen: Dots, grid: _Grid) -> bool:
    inside = (place.rect.inset(0.6, 0.6) for place in page.places if place.shade is Shade.HATCHED)
    return all(float(part.mean()) / 255 > _HATCHED for part in (grid.part(seen, rect) for rect in inside) if part.size)


def _grown(dots: Dots) -> Dots:
    """The dots, and their neighbours."""
    grown = dots.copy()
    grown[1:] |= dots[:-1]
    grown[:-1] |= dots[1:]
    wide = grown.copy()
    wide[:, 1:] |= grown[:, :-1]
    wide[:, :-1] |= grown[:, 1:]
    return wide
