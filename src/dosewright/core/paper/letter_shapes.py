"""Each letter of a finished PDF as a picture: does it look like itself, or like another letter of its font?

Outline rectangles cannot tell a 6 from a 9; pictures can. One occurrence of every letter of every font is looked at, its largest: a wrong
glyph map is wrong wherever it is used. The picture is compared with the letter as FreeType draws it from the font file, and with every
letter and digit whose outline fills about the same rectangle; it must be nearest to itself. A letter of few dots may seem nearer to
another for its size alone, so what looks odd is looked at again from near. Comes in: the PDF and its glyphs.
"""

import string
from collections import defaultdict
from collections.abc import Iterator, Sequence
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
_Box = tuple[float, float, float, float]  # left, top, right, bottom in dots


@dataclass(frozen=True, slots=True)
class Sample:
    """One letter to look at: where it stands, on which page (from 0), and the font that it should be from."""

    page: int
    glyph: Glyph
    font: Font


def keep_largest(samples: dict[tuple[str, str], Sample], sample: Sample) -> None:
    """Remember the sample if it is the first of its letter and font, or larger than the one remembered."""
    key = (sample.font.name, sample.glyph.text)
    if key not in samples or sample.glyph.size > samples[key].glyph.size:
        samples[key] = sample


def find_odd_letters(pdf: bytes, samples: Sequence[Sample]) -> Iterator[Sample]:
    """Samples that look like another letter."""
    by_page: dict[int, list[Sample]] = defaultdict(list)
    for sample in samples:
        by_page[sample.page].append(sample)
    document = pypdfium2.PdfDocument(pdf)
    try:
        for number, some in sorted(by_page.items()):
            page = document[number]
            picture = numpy.asarray(page.render(scale=_DPI / 72, grayscale=True).to_pil())
            for sample in some:
                ink, dots = sample.glyph.ink, _DPI / 25.4
                box = (ink.left * dots, ink.top * dots, ink.right * dots, ink.bottom * dots)
                if _looks_like_another(picture, box, sample) and _looks_like_another(*_from_near(page, sample), sample):
                    yield sample
    finally:
        document.close()


def _from_near(page: pypdfium2.PdfPage, sample: Sample) -> tuple[Greys, _Box]:
    """The letter alone, in many more dots, and where it stands in that picture."""
    ink, dots, scale = sample.glyph.ink, _NEAR_DPI / 25.4, _NEAR_DPI / 72
    wide, high = (side * scale for side in page.get_size())
    left, top = int(ink.left * dots) - _EDGE, int(ink.top * dots) - _EDGE
    right, bottom = int(wide - ink.right * dots) - _EDGE, int(high - ink.bottom * dots) - _EDGE
    cut = tuple((max(side, 0) - _ROUNDING) / scale for side in (left, bottom, right, top))  # whole dots, in points
    picture = numpy.asarray(page.render(scale=scale, crop=cut, grayscale=True).to_pil())
    left, top = max(left, 0), max(top, 0)
    return picture, (ink.left * dots - left, ink.top * dots - top, ink.right * dots - left, ink.bottom * dots - top)


def _looks_like_another(picture: Greys, box: _Box, sample: Sample) -> bool:
    if min(box[2] - box[0], box[3] - box[1]) < _SMALLEST:
        return False
    seen = _greys(Image.fromarray(picture), box)
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
