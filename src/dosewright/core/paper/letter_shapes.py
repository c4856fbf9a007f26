"""Each letter of a finished PDF as a picture: does it look like itself, or like another letter of its font?

Outline rectangles cannot tell a 6 from a 9; pictures can. One occurrence of every letter of every font is looked at, its largest: a wrong
glyph map is wrong wherever it is used. The picture is compared with the letter as FreeType draws it from the font file, and with every
letter and digit whose outline fills about the same rectangle; it must be nearest to itself. A letter of few dots may seem nearer to
another for its size alone, so what looks odd is looked at again from near. Comes in: the PDF and its glyphs.
"""

import string
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import Any

import numpy
import numpy.typing
import pypdfium2
from PIL import Image, ImageDraw, ImageFont

from dosewright.core.paper.fonts import Font
from dosewright.core.paper.pdf_text import Glyph

__all__ = ["Sample", "find_odd_letters", "keep_largest"]

_DPI = 300
_NEAR_DPI = 1200
_GRID = 12  # a letter is compared as 12 by 12 greys
_SMALLEST = 7  # dots: narrower or lower letters are left to the comparison of rectangles
_NEARER = 0.02  # mean difference of the greys, 0 to 1: by so much another letter must be nearer to count
_ALIKE = 30.0  # thousandths of the size: outlines that near fill about the same rectangle
_OTHERS = string.digits + string.ascii_letters
_DRAWN = 200  # dots high when FreeType draws the letter

_EDGE = 4  # dots around a letter that is looked at from near
_ROUNDING = 0.01  # of a dot: the renderer takes the next whole one

Greys = numpy.typing.NDArray[Any]


@dataclass(frozen=True, slots=True)
class Sample:
    """One letter to look at: where it stands, on which page (from 0), and the font that it should be from."""

    page: int
    glyph: Glyph
    font: Font


def keep_largest(samples: dict[tuple[str, str], Sample], page: int, glyphs: Iterable[Glyph], font: Font) -> None:
    """Remember each letter that is the first of its kind in that font, or larger than the one remembered."""
    for glyph in glyphs:
        held = samples.get((font.name, glyph.text))
        if held is None or glyph.size > held.glyph.size:
            samples[font.name, glyph.text] = Sample(page, glyph, font)


def find_odd_letters(pdf: bytes, samples: Sequence[Sample]) -> Iterator[Sample]:
    """Samples that look like another letter."""
    by_page: dict[int, list[Sample]] = defaultdict(list)
    for sample in samples:
        if sample.glyph.text.strip():
            by_page[sample.page].append(sample)
    document = pypdfium2.PdfDocument(pdf)
    try:
        for number, some in sorted(by_page.items()):
            page = document[number]
            part = _part_of(page, [sample.glyph for sample in some], _DPI)
            for sample in some:
                if _looks_like_another(part, sample) and _looks_like_another(_part_of(page, [sample.glyph], _NEAR_DPI), sample):
                    yield sample
            page.close()
    finally:
        document.close()


@dataclass(frozen=True, slots=True)
class _Part:
    """A picture of a part of a page: how many dots to a millimetre, and how many lie left of it and above it."""

    greys: Greys
    dots: float
    left: int
    top: int


def _part_of(page: pypdfium2.PdfPage, glyphs: Sequence[Glyph], dpi: int) -> _Part:
    """The smallest that has all the letters: drawing costs by the dot."""
    dots, scale = dpi / 25.4, dpi / 72
    wide, high = (side * scale for side in page.get_size())
    left, top = (max(int(min(sides) * dots) - _EDGE, 0) for sides in ([g.left for g in glyphs], [g.top for g in glyphs]))
    right, bottom = int(wide - max(g.right for g in glyphs) * dots) - _EDGE, int(high - max(g.bottom for g in glyphs) * dots) - _EDGE
    cut = tuple((max(side, 0) - _ROUNDING) / scale for side in (left, bottom, right, top))  # whole dots, in points
    return _Part(numpy.asarray(page.render(scale=scale, crop=cut, grayscale=True).to_pil()), dots, left, top)


def _looks_like_another(part: _Part, sample: Sample) -> bool:
    ink, dots = sample.glyph, part.dots
    box = (ink.left * dots - part.left, ink.top * dots - part.top, ink.right * dots - part.left, ink.bottom * dots - part.top)
    if min(box[2] - box[0], box[3] - box[1]) < _SMALLEST:
        return False
    seen = _greys(Image.fromarray(part.greys), box)
    own = float(numpy.abs(seen - _as_it_should_be(sample.font, sample.glyph.text)).mean())
    others = (numpy.abs(seen - _as_it_should_be(sample.font, other)).mean() for other in _alike(sample.font, sample.glyph.text))
    return any(float(difference) < own - _NEARER for difference in others)


@lru_cache(maxsize=4096)
def _alike(font: Font, letter: str) -> tuple[str, ...]:
    """Letters and digits whose outline fills about the same rectangle."""
    mine = font.inks[letter]
    inks = ((other, font.inks.get(other)) for other in _OTHERS if other != letter)
    return tuple(other for other, ink in inks if mine and ink and all(abs(a - b) <= _ALIKE for a, b in zip(mine, ink, strict=True)))


def _greys(image: Image.Image, box: tuple[float, float, float, float]) -> Greys:
    return numpy.asarray(image.resize((_GRID, _GRID), Image.Resampling.BOX, box=box), dtype=numpy.float64) / 255


@lru_cache(maxsize=4096)
def _as_it_should_be(font: Font, letter: str) -> Greys:
    reader = ImageFont.truetype(BytesIO(font.data), _DRAWN, layout_engine=ImageFont.Layout.BASIC)
    image = Image.new("L", (_DRAWN * 3, _DRAWN * 3), 255)
    ImageDraw.Draw(image).text((_DRAWN, _DRAWN * 2), letter, fill=0, font=reader, anchor="ls")
    box = image.point(lambda grey: 255 - grey).getbbox()
    return _greys(image, box) if box else numpy.ones((_GRID, _GRID))
