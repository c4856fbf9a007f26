"""The finished PDF against the pages that were meant: read back before anybody may print it. Differences are `stop` findings.

Held for every page: its size; every run with its very text, at its place, in its size, not below its floor, each letter drawn with the
outline that the font gives that letter; no ink outside the run's box, none over another run's, no text that no run asked for; every figure
as black as it was meant; every code decodes at the printer's resolution to its text. Comes in: PDF bytes, pages, fonts. Goes out: findings,
none when the PDF is the pages.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from dosewright.core.paper.figure_check import find_odd_figures
from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.letter_shapes import Sample, find_odd_letters, keep_largest
from dosewright.core.paper.outlined import outline_of
from dosewright.core.paper.outlines import Ink
from dosewright.core.paper.page import MM_PER_POINT, Page, Polygon, Rect, Run
from dosewright.core.paper.pdf_text import Glyph, ReadPage, read_codes, read_pages
from dosewright.core.paper.printer import COARSEST
from dosewright.core.paper.shaping import ShapedFont
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["Watch", "check_pdf"]

Watch = Callable[[Page, ReadPage], Iterable[Finding]]

_PLACE = 0.06  # mm: a PDF number has few decimals; a printer's dot is twice this
_SIZE = 0.01  # points
_INK = 12.0  # thousandths of the size: rounding of outlines in the reader
_KEYS = 20  # baselines are sorted into shelves of 1/20 mm


def check_pdf(pdf: bytes, pages: Sequence[Page], fonts: FontSet, watch: Watch | None = None, dpi: int = COARSEST) -> tuple[Finding, ...]:
    """Every difference between the document and the pages, in order of page; none is read into memory before the last was let go.

    `watch` sees each page's letters too, and finds what it is there to find. `dpi`: the printer's, at which codes must read.
    """
    samples: dict[tuple[str, str], Sample] = {}
    found: list[Finding] = []
    count = 0
    for count, read in enumerate(read_pages(pdf), start=1):
        if count <= len(pages):
            found += _check_page(pages[count - 1], read, fonts, (count - 1, samples))
            found += watch(pages[count - 1], read) if watch else ()
    if count != len(pages):
        return (Finding("paper.page-count-differs", Severity.STOP, {}, {"expected": len(pages), "found": count}),)
    return (*found, *_check_shapes(pdf, pages, samples), *_check_figures(pdf, pages, fonts), *_check_codes(pdf, pages, dpi))


def _check_page(page: Page, read: ReadPage, fonts: FontSet, at: tuple[int, dict[tuple[str, str], Sample]]) -> Iterator[Finding]:
    """Everything that the letters' places tell; `at` is the page's index and the letters that will be looked at as pictures."""
    number, samples = at
    where: dict[str, Fact] = {**dict(page.about), "page": number + 1}
    if abs(page.width - read.width) > _PLACE or abs(page.height - read.height) > _PLACE:
        yield Finding("paper.page-size-differs", Severity.STOP, where)
    shelves = _Shelves.of(read.glyphs)
    inks: list[tuple[Rect, Run]] = []
    for run in page.runs:
        font = fonts.font_for(run.text, run.face)
        if isinstance(font, ShapedFont):
            inks.append((outline_of(run, font).box, run))
            yield from _check_outlined(run, inks[-1][0], where)
            continue
        glyphs = shelves.take(run)
        yield from _check_run(run, glyphs, font, where)
        if ink := _ink_of(glyphs):
            inks.append((ink, run))
        if font:
            for glyph in glyphs:
                keep_largest(samples, Sample(number, glyph, font))
    for glyph in shelves.left():
        yield _stop("paper.text-nobody-asked-for", where, text=glyph.text)
    yield from _check_overlaps(inks, where)
    yield from _check_over_figures(page, inks, where)


def _check_shapes(pdf: bytes, pages: Sequence[Page], samples: dict[tuple[str, str], Sample]) -> Iterator[Finding]:
    for sample in find_odd_letters(pdf, list(samples.values())):
        yield _stop("paper.letter-differs", {**dict(pages[sample.page].about), "page": sample.page + 1}, text=sample.glyph.text)


def _check_figures(pdf: bytes, pages: Sequence[Page], fonts: FontSet) -> Iterator[Finding]:
    for number, figure in find_odd_figures(pdf, pages, fonts):
        yield _stop("paper.figure-differs", {**dict(pages[number].about), "page": number + 1}, text=figure.text)


@dataclass(frozen=True, slots=True)
class _Shelves:
    """The page's glyphs by baseline, then from left to right; each can be taken once."""

    shelves: dict[int, list[Glyph]]
    taken: set[int] = field(default_factory=set)

    @staticmethod
    def of(glyphs: Sequence[Glyph]) -> "_Shelves":
        shelves: dict[int, list[Glyph]] = defaultdict(list)
        for glyph in glyphs:
            shelves[round(glyph.baseline * _KEYS)].append(glyph)
        for shelf in shelves.values():
            shelf.sort(key=lambda glyph: glyph.x)
        return _Shelves(dict(shelves))

    def take(self, run: Run) -> list[Glyph]:
        """The glyphs that begin on the run's stretch of its baseline, from left to right."""
        key = round(run.baseline * _KEYS)
        found = [glyph for near in (key - 1, key, key + 1) for glyph in self._between(near, run.x - _PLACE, run.x + run.width - _PLACE)]
        mine = sorted((g for g in found if abs(g.baseline - run.baseline) <= _PLACE and id(g) not in self.taken), key=lambda g: g.x)
        self.taken.update(id(glyph) for glyph in mine)
        return mine

    def _between(self, key: int, left: float, right: float) -> list[Glyph]:
        shelf = self.shelves.get(key, [])
        return shelf[bisect_left(shelf, left, key=lambda g: g.x) : bisect_right(shelf, right, key=lambda g: g.x)]

    def left(self) -> list[Glyph]:
        return [glyph for shelf in self.shelves.values() for glyph in shelf if id(glyph) not in self.taken]


def _check_outlined(run: Run, ink: Rect, where: dict[str, Fact]) -> Iterator[Finding]:
    """What is drawn as outlines is compared as a figure; its size and its box are asked of it like of any other."""
    if run.size < run.floor - _SIZE:
        yield _stop("paper.size-differs", where, text=run.text)
    if not _inside(ink, run.box):
        yield _stop("paper.outside-its-box", where, text=run.text)


def _check_run(run: Run, glyphs: list[Glyph], font: Font | None, where: dict[str, Fact]) -> Iterator[Finding]:
    found = "".join(glyph.text for glyph in glyphs)
    if found != run.text:
        yield _stop("paper.text-differs", where, text=run.text, found=found)
        return
    if any(abs(glyph.size - run.size) > _SIZE for glyph in glyphs) or run.size < run.floor - _SIZE:
        yield _stop("paper.size-differs", where, text=run.text)
    if not _drawn_as_meant(run, glyphs, font):
        yield _stop("paper.letter-differs", where, text=run.text)
    ink = _ink_of(glyphs)
    if ink and not _inside(ink, run.box):
        yield _stop("paper.outside-its-box", where, text=run.text)


def _drawn_as_meant(run: Run, glyphs: list[Glyph], font: Font | None) -> bool:
    """Whether each letter stands where the widths before it put it, and has the outline that the font gives it."""
    if font is None:
        return False
    scale = run.size * MM_PER_POINT / 1000
    x, near = run.x, _INK * scale
    for glyph in glyphs:
        if not -_PLACE <= glyph.x - x <= _PLACE:
            return False
        ink = font.inks.get(glyph.text)
        if ink and not _same_ink(glyph, ink, scale, near):
            return False
        x += font.widths[glyph.text] * scale
    return True


def _same_ink(glyph: Glyph, ink: Ink, scale: float, near: float) -> bool:
    left, bottom, right, top = ink
    drawn, x, baseline = glyph.ink, glyph.x, glyph.baseline
    return (
        -near <= drawn.left - x - left * scale <= near
        and -near <= baseline - drawn.bottom - bottom * scale <= near
        and -near <= drawn.right - x - right * scale <= near
        and -near <= baseline - drawn.top - top * scale <= near
    )


def _ink_of(glyphs: list[Glyph]) -> Rect | None:
    inked = [glyph.ink for glyph in glyphs if glyph.text != " "]
    if not inked:
        return None
    left, top = min(ink.left for ink in inked), min(ink.top for ink in inked)
    return Rect(left, top, max(ink.right for ink in inked) - left, max(ink.bottom for ink in inked) - top)


def _inside(ink: Rect, box: Rect) -> bool:
    across = ink.left >= box.left - _PLACE and ink.right <= box.right + _PLACE
    return across and ink.top >= box.top - _PLACE and ink.bottom <= box.bottom + _PLACE


def _check_overlaps(inks: list[tuple[Rect, Run]], where: dict[str, Fact]) -> Iterator[Finding]:
    """Pairs of runs with ink in one place; sorted from the top, so that only neighbours are compared."""
    ordered = sorted(inks, key=lambda one: one[0].top)
    for n, (ink, run) in enumerate(ordered):
        for other, second in ordered[n + 1 :]:
            if other.top >= ink.bottom - _PLACE:
                break
            if other.left < ink.right - _PLACE and ink.left < other.right - _PLACE:
                yield _stop("paper.texts-overlap", where, text=run.text, found=second.text)


def _check_over_figures(page: Page, inks: list[tuple[Rect, Run]], where: dict[str, Fact]) -> Iterator[Finding]:
    """Runs with ink where a figure has a shape."""
    for figure in page.figures:
        shapes = [_around(shape) for shape in figure.shapes]
        for ink, run in inks:
            if any(ink.left < s.right and s.left < ink.right and ink.top < s.bottom and s.top < ink.bottom for s in shapes):
                yield _stop("paper.text-over-figure", where, text=run.text)


def _around(shape: tuple[Polygon, ...]) -> Rect:
    xs, ys = zip(*(point for contour in shape for point in contour), strict=True)
    return Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def _check_codes(pdf: bytes, pages: Sequence[Page], dpi: int) -> Iterator[Finding]:
    read = read_codes(pdf, [[code.rect for code in page.codes] for page in pages], dpi)
    for n, (page, texts) in enumerate(zip(pages, read, strict=True), start=1):
        for code, text in zip(page.codes, texts, strict=True):
            if text != code.text:
                yield _stop("paper.code-differs", {**dict(page.about), "page": n}, text=code.text, found=text or "", dpi=dpi)


def _stop(code: str, where: dict[str, Fact], **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where, facts)
