"""Each letter of a finished PDF as a picture: does it look like itself, or like another letter of its font?

Outline rectangles cannot tell a 6 from a 9; pictures can. One occurrence of every letter of every font is looked at, its largest: a wrong
glyph map is wrong wherever it is used. The picture is compared with the letter as FreeType draws it from the font file, and with every
letter and digit whose outline fills about the same rectangle; it must be nearest to itself. Comes in: the PDF and its glyphs.
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
_GRID = 12  # a letter is compared as 12 by 12 greys
_SMALLEST = 7  # dots: narrower or lower letters are left to the comparison of rectangles
_NEARER = 0.02  # mean difference of the greys, 0 to 1: by so much another letter must be nearer to count
_ALIKE = 30.0  # thousandths of the size: outlines that near fill about the same rectangle
_OTHERS = string.digits + string.ascii_letters
_DRAWN = 200  # dots high when FreeType draws the letter

Greys = numpy.typing.NDArray[Any]


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
            picture = numpy.asarray(document[number].render(scale=_DPI / 72, grayscale=True).to_pil())
            for sample in some:
                if _looks_like_another(picture, sample):
                    yield sample
    finally:
        document.close()


def _looks_like_another(picture: Greys, sample: Sample) -> bool:
    ink, dots = sample.glyph.ink, _DPI / 25.4
    if min(ink.width, ink.height) * dots < _SMALLEST:
        return False
    box = (ink.left * dots, ink.top * dots, ink.right * dots, ink.bottom * dots)
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
