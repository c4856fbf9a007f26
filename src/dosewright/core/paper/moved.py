"""A PDF corrected for its printer against the one as drawn: the same letters and codes, each where the correction puts it.

The PDF as drawn was read back whole before; so this compares only what the correction may change. Comes in: both PDFs, the correction, the
pages. Goes out: `stop` findings.
"""

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from dosewright.core.paper.page import Page, Rect
from dosewright.core.paper.pdf_text import Glyph, ReadPage, read_codes, read_pages
from dosewright.core.paper.printer import Correction, Printer
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["check_moved"]

_NEAR = 0.06  # mm: half a dot of the coarsest printer


def check_moved(drawn: bytes, moved: bytes, pages: Sequence[Page], printer: Printer) -> Iterator[Finding]:
    """Differences, the first of each page."""
    for number, (page, one, other) in enumerate(zip_longest(pages, read_pages(drawn), read_pages(moved)), start=1):
        if page is None or one is None or other is None:
            yield Finding("paper.page-count-differs", Severity.STOP, {}, {"expected": len(pages), "found": number})
            return
        where: dict[str, Fact] = {**dict(page.about), "page": number}
        odd = next(_not_moved(one, other, printer.correction), None)
        if odd is not None:
            yield Finding("paper.moved-otherwise", Severity.STOP, where, {"text": odd.text})
        yield from _codes(page, other, printer, where)


def _not_moved(drawn: ReadPage, moved: ReadPage, correction: Correction) -> Iterator[Glyph]:
    for one, other in zip_longest(drawn.glyphs, moved.glyphs):
        if one is None or other is None:
            yield one or other
        elif one.text != other.text or not _near(correction.place(one.x, one.baseline), (other.x, other.baseline)):
            yield one


def _near(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(one[0] - other[0]) <= _NEAR and abs(one[1] - other[1]) <= _NEAR


def _codes(page: Page, read: ReadPage, printer: Printer, where: dict[str, Fact]) -> Iterator[Finding]:
    rects = [_moved(code.rect, printer.correction) for code in page.codes]
    for code, text in zip(page.codes, read_codes(read.picture, rects, printer.dpi), strict=True):
        if text != code.text:
            yield Finding("paper.code-differs", Severity.STOP, where, {"text": code.text, "found": text or "", "dpi": printer.dpi})


def _moved(rect: Rect, correction: Correction) -> Rect:
    left, top = correction.place(rect.left, rect.top)
    right, bottom = correction.place(rect.right, rect.bottom)
    return Rect(left, top, right - left, bottom - top)
