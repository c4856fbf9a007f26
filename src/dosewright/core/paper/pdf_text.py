"""What a finished PDF really holds, read by another library than the one that wrote it: every glyph with its place and ink, and the codes.

Comes in: PDF bytes. Goes out: `ReadPage` values in millimetres from the upper left corner, as pages are. Reader: PDFium; decoder: ZXing.
A page is read once: whoever looks at it as a picture too does so while it is open.
"""

import ctypes
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import pypdfium2
import pypdfium2.raw as pdfium
import zxingcpp

from dosewright.core.paper.page import MM_PER_POINT, Rect

__all__ = ["Glyph", "ReadPage", "read_codes", "read_pages"]


class Glyph(NamedTuple):
    """One character as drawn: what it stands for, its origin on the baseline, the sides of its ink, its size in points. A plain tuple:
    a page of labels has two thousand."""

    text: str
    x: float
    baseline: float
    left: float
    top: float
    right: float
    bottom: float
    size: float


@dataclass(frozen=True, slots=True)
class ReadPage:
    """One page of the PDF. `picture`: the page itself, to be drawn from; open until the next one is asked for."""

    width: float
    height: float
    glyphs: tuple[Glyph, ...]
    picture: pypdfium2.PdfPage


def read_pages(pdf: bytes) -> Iterator[ReadPage]:
    """Page by page. Raises pypdfium2.PdfiumError for bytes that are no PDF."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        for page in document:
            width, height = page.get_size()
            text = page.get_textpage()
            glyphs = tuple(_glyphs(text, height))
            text.close()
            yield ReadPage(width * MM_PER_POINT, height * MM_PER_POINT, glyphs, page)
            page.close()
    finally:
        document.close()


def _glyphs(text: pypdfium2.PdfTextPage, height: float) -> Iterator[Glyph]:
    """Called for every letter of every page: what PDFium is asked is looked up once."""
    x, y = ctypes.c_double(), ctypes.c_double()
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    raw, mm, make = text.raw, MM_PER_POINT, tuple.__new__
    is_generated, letter_of, size_of = pdfium.FPDFText_IsGenerated, pdfium.FPDFText_GetUnicode, pdfium.FPDFText_GetFontSize
    tell_origin, tell_box = pdfium.FPDFText_GetCharOrigin, pdfium.FPDFText_GetCharBox
    origin, box = tuple(map(ctypes.byref, (x, y))), tuple(map(ctypes.byref, (left, right, bottom, top)))
    for n in range(text.count_chars()):
        if is_generated(raw, n):
            continue  # spaces and line ends that the reader itself puts between words
        tell_origin(raw, n, *origin)
        tell_box(raw, n, *box)
        yield make(
            Glyph,
            (
                chr(letter_of(raw, n)),
                x.value * mm,
                (height - y.value) * mm,
                left.value * mm,
                (height - top.value) * mm,
                right.value * mm,
                (height - bottom.value) * mm,
                size_of(raw, n),
            ),
        )


def read_codes(page: pypdfium2.PdfPage, places: Sequence[Rect], dpi: int) -> list[str | None]:
    """What a scanner reads at each place of the page once printed at `dpi`, None where it reads nothing. One-bit, as a printer prints."""
    return [_decode(page, place, dpi) for place in places]


def _decode(page: pypdfium2.PdfPage, rect: Rect, dpi: int) -> str | None:
    width, height = page.get_size()
    left, right = rect.left / MM_PER_POINT, width - rect.right / MM_PER_POINT
    top, bottom = rect.top / MM_PER_POINT, height - rect.bottom / MM_PER_POINT
    image = page.render(scale=dpi / 72, crop=(left, bottom, right, top), grayscale=True).to_pil()
    found = zxingcpp.read_barcodes(
        image.point(lambda grey: 255 if grey > 127 else 0), formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.DataMatrix)
    )
    return found[0].text if len(found) == 1 else None
