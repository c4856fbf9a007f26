"""The finished PDF against the pages that were meant: read back before anybody may print it. Differences are `stop` findings.

Held for every page: its size; every run with its very text, at its place, in its size, not below its floor, each letter drawn with the
outline that the font gives that letter; no ink outside the run's box, none over another run's, no text that no run asked for; every run and
every figure as black as it was meant, every line and dial where it was meant, no ink that nobody asked for; every code decodes at the
printer's resolution to its text, its modules where they were meant. Comes in: PDF bytes, pages, fonts. Goes out: findings, none when the
PDF is the pages.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from operator import attrgetter, itemgetter

from dosewright.core.paper.code_check import is_code_as_meant
from dosewright.core.paper.figure_check import find_odd_figures
from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.ink_check import check_ink
from dosewright.core.paper.letter_shapes import Sample, find_odd_letters, keep_largest
from dosewright.core.paper.outlined import outline_of
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
            page = pages[count - 1]
            found += _check_page(page, read, fonts, (count - 1, samples))
            found += watch(page, read) if watch else ()
            found += _check_figures(page, read, fonts, {**dict(page.about), "page": count})
            found += _check_codes(page, read, dpi, {**dict(page.about), "page": count})
    if count != len(pages):
        return (Finding("paper.page-count-differs", Severity.STOP, {}, {"expected": len(pages), "found": count}),)
    return (*found, *_check_shapes(pdf, pages, samples))


def _check_page(page: Page, read: ReadPage, fonts: FontSet, at: tuple[int, dict[tuple[str, str], Sample]]) -> Iterator[Finding]:
    """Everything that the letters' places tell; `at` is the page's index and the letters that will be looked at as pictures."""
    number, samples = at
    where: dict[str, Fact] = {**dict(page.about), "page": number + 1}
    if abs(page.width - read.width) > _PLACE or abs(page.height - read.height) > _PLACE:
        yield Finding("paper.page-size-differs", Severity.STOP, where)
    shelves = _Shelves.of(read.glyphs)
    inks: list[tuple[Rect, Run]] = []
    fonts_of: list[Font | None] = []  # of each of `inks`
    for run in page.runs:
        font = fonts.font_for(run.text, run.face)
        if isinstance(font, ShapedFont):
            inks.append((outline_of(run, font).box, run))
            fonts_of.append(None)
            yield from _check_outlined(run, inks[-1][0], where)
            continue
        glyphs = shelves.take(run)
        ink = _ink_of(glyphs)
        yield from _check_run(run, glyphs, font, ink, where)
        if ink:
            inks.append((ink, run))
            fonts_of.append(font)
        if font:
            keep_largest(samples, number, glyphs, font)
    for glyph in shelves.left():
        yield _stop("paper.text-nobody-asked-for", where, text=glyph.text)
    yield from _check_overlaps(inks, where)
    yield from _check_over_figures(page, inks, where)
    blackened = ((ink, run, font) for (ink, run), font in zip(inks, fonts_of, strict=True))
    yield from check_ink(page, read.picture, blackened, where)


def _check_shapes(pdf: bytes, pages: Sequence[Page], samples: dict[tuple[str, str], Sample]) -> Iterator[Finding]:
    for sample in find_odd_letters(pdf, list(samples.values())):
        yield _stop("paper.letter-differs", {**dict(pages[sample.page].about), "page": sample.page + 1}, text=sample.glyph.text)


def _check_figures(page: Page, read: ReadPage, fonts: FontSet, where: dict[str, Fact]) -> Iterator[Finding]:
    for figure in find_odd_figures(page, read.picture, fonts):
        yield _stop("paper.figure-differs", where, text=figure.text)


_Shelf = tuple[list[float], list[Glyph]]  # where letters begin, and the letters, from left to right


@dataclass(frozen=True, slots=True)
class _Shelves:
    """The page's glyphs by baseline, then from left to right; each can be taken once."""

    shelves: dict[int, _Shelf]
    taken: set[int] = field(default_factory=set)

    @staticmethod
    def of(glyphs: Sequence[Glyph]) -> "_Shelves":
        shelves: dict[int, list[Glyph]] = defaultdict(list)
        for glyph in glyphs:
            shelves[round(glyph.baseline * _KEYS)].append(glyph)
        for shelf in shelves.values():
            shelf.sort(key=_begins)
        return _Shelves({key: ([glyph.x for glyph in shelf], shelf) for key, shelf in shelves.items()})

    def take(self, run: Run) -> list[Glyph]:
        """The glyphs that begin on the run's stretch of its baseline, from left to right."""
        key, left, right = round(run.baseline * _KEYS), run.x - _PLACE, run.x + run.width - _PLACE
        mine: list[Glyph] = []
        for near in (key - 1, key, key + 1):
            if near in self.shelves:
                begins, shelf = self.shelves[near]
                mine += shelf[bisect_left(begins, left) : bisect_right(begins, right)]
        mine = [g for g in mine if -_PLACE <= g.baseline - run.baseline <= _PLACE and id(g) not in self.taken]
        mine.sort(key=_begins)
        self.taken.update(map(id, mine))
        return mine

    def left(self) -> list[Glyph]:
        return [glyph for _, shelf in self.shelves.values() for glyph in shelf if id(glyph) not in self.taken]


_begins = attrgetter("x")


def _check_outlined(run: Run, ink: Rect, where: dict[str, Fact]) -> Iterator[Finding]:
    """What is drawn as outlines is compared as a figure; its size and its box are asked of it like of any other."""
    if run.size < run.floor - _SIZE:
        yield _stop("paper.size-differs", where, text=run.text)
    if not _inside(ink, run.box):
        yield _stop("paper.outside-its-box", where, text=run.text)


def _check_run(run: Run, glyphs: list[Glyph], font: Font | None, ink: Rect | None, where: dict[str, Fact]) -> Iterator[Finding]:
    found = "".join([glyph.text for glyph in glyphs])
    if found != run.text:
        yield _stop("paper.text-differs", where, text=run.text, found=found)
        return
    if run.size < run.floor - _SIZE or any(abs(size - run.size) > _SIZE for size in {glyph.size for glyph in glyphs}):
        yield _stop("paper.size-differs", where, text=run.text)
    if not _drawn_as_meant(run, glyphs, font):
        yield _stop("paper.letter-differs", where, text=run.text)
    if ink and not _inside(ink, run.box):
        yield _stop("paper.outside-its-box", where, text=run.text)


def _drawn_as_meant(run: Run, glyphs: list[Glyph], font: Font | None) -> bool:
    """Whether each letter stands where the widths before it put it, and has the outline that the font gives it."""
    if font is None:
        return False
    inks, widths = font.inks, font.widths
    scale = run.size * MM_PER_POINT / 1000
    x, near = run.x, _INK * scale
    for letter, begins, baseline, left, top, right, bottom, _ in glyphs:
        if not -_PLACE <= begins - x <= _PLACE:
            return False
        ink = inks.get(letter)
        if ink and not (
            -near <= left - begins - ink[0] * scale <= near
            and -near <= baseline - bottom - ink[1] * scale <= near
            and -near <= right - begins - ink[2] * scale <= near
            and -near <= baseline - top - ink[3] * scale <= near
        ):
            return False
        x += widths[letter] * scale
    return True


def _ink_of(glyphs: list[Glyph]) -> Rect | None:
    inked = [glyph for glyph in glyphs if glyph.text != " "]
    if not inked:
        return None
    _, _, _, lefts, tops, rights, bottoms, _ = zip(*inked, strict=True)
    left, top = min(lefts), min(tops)
    return Rect(left, top, max(rights) - left, max(bottoms) - top)


def _inside(ink: Rect, box: Rect) -> bool:
    across = ink.left >= box.left - _PLACE and ink.right <= box.right + _PLACE
    return across and ink.top >= box.top - _PLACE and ink.bottom <= box.bottom + _PLACE


def _check_overlaps(inks: list[tuple[Rect, Run]], where: dict[str, Fact]) -> Iterator[Finding]:
    """Pairs of runs with ink in one place; sorted from the top, so that only neighbours are compared."""
    ordered = sorted(((ink.top, ink.bottom - _PLACE, ink.left, ink.right - _PLACE, run) for ink, run in inks), key=itemgetter(0))
    for n, (_, bottom, left, right, run) in enumerate(ordered, start=1):
        for other_top, _, other_left, other_right, other in islice(ordered, n, None):
            if other_top >= bottom:
                break
            if other_left < right and left < other_right:
                yield _stop("paper.texts-overlap", where, text=run.text, found=other.text)


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


def _check_codes(page: Page, read: ReadPage, dpi: int, where: dict[str, Fact]) -> Iterator[Finding]:
    texts = read_codes(read.picture, [code.rect for code in page.codes], dpi)
    for code, text in zip(page.codes, texts, strict=True):
        if text != code.text:
            yield _stop("paper.code-differs", where, text=code.text, found=text or "", dpi=dpi)
        elif not is_code_as_meant(code, read.picture):
            yield _stop("paper.code-elsewhere", where, text=code.text)


def _stop(code: str, where: dict[str, Fact], **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where, facts)
