"""What a finished PDF really holds, read by another library than the one that wrote it: every glyph with its place and ink, and the codes.

Comes in: PDF bytes. Goes out: `ReadPage` values in millimetres from the upper left corner, as pages are. Reader: PDFium; decoder: ZXing.
"""

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium
import zxingcpp

from dosewright.core.paper.page import MM_PER_POINT, Rect

__all__ = ["Glyph", "ReadPage", "read_codes", "read_pages"]


@dataclass(frozen=True, slots=True)
class Glyph:
    """One character as drawn: what it stands for, its origin on the baseline, its ink, its size in points."""

    text: str
    x: float
    baseline: float
    ink: Rect
    size: float


@dataclass(frozen=True, slots=True)
class ReadPage:
    """One page of the PDF."""

    width: float
    height: float
    glyphs: tuple[Glyph, ...]


def read_pages(pdf: bytes) -> Iterator[ReadPage]:
    """Page by page. Raises pypdfium2.PdfiumError for bytes that are no PDF."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        for page in document:
            width, height = page.get_size()
            text = page.get_textpage()
            yield ReadPage(width * MM_PER_POINT, height * MM_PER_POINT, tuple(_glyphs(text, height)))
            text.close()
            page.close()
    finally:
        document.close()


def _glyphs(text: pypdfium2.PdfTextPage, height: float) -> Iterator[Glyph]:
    x, y = ctypes.c_double(), ctypes.c_double()
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    raw = text.raw
    for n in range(text.count_chars()):
        if pdfium.FPDFText_IsGenerated(raw, n):
            continue  # spaces and line ends that the reader itself puts between words
        pdfium.FPDFText_GetCharOrigin(raw, n, x, y)
        pdfium.FPDFText_GetCharBox(raw, n, left, right, bottom, top)
        ink = Rect(
            left.value * MM_PER_POINT,
            (height - top.value) * MM_PER_POINT,
            (right.value - left.value) * MM_PER_POINT,
            (top.value - bottom.value) * MM_PER_POINT,
        )
        letter = chr(pdfium.FPDFText_GetUnicode(raw, n))
        yield Glyph(letter, x.value * MM_PER_POINT, (height - y.value) * MM_PER_POINT, ink, pdfium.FPDFText_GetFontSize(raw, n))


def read_codes(pdf: bytes, places: list[list[Rect]], dpi: int) -> list[list[str | None]]:
    """What a scanner reads at each place of each page once printed at `dpi`, None where it reads nothing. One-bit, as a printer prints."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [_read_page_codes(document[n], rects, dpi) for n, rects in enumerate(places)]
    finally:
        document.close()


def _read_page_codes(page: pypdfium2.PdfPage, rects: list[Rect], dpi: int) -> list[str | None]:
    return [_decode(page, rect, dpi) for rect in rects]


def _decode(page: pypdfium2.PdfPage, rect: Rect, dpi: int) -> str | None:
    width, height = page.get_size()
    left, right = rect.left / MM_PER_POINT, width - rect.right / MM_PER_POINT
    top, bottom = rect.top / MM_PER_POINT, height - rect.bottom / MM_PER_POINT
    image = page.render(scale=dpi / 72, crop=(left, bottom, right, top), grayscale=True).to_pil()
    found = zxingcpp.read_barcodes(
        image.point(lambda grey: 255 if grey > 127 else 0), formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.DataMatrix)
    )
    return found[0].text if len(found) == 1 else None
