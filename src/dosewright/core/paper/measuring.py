"""The measuring sheet: two marks and rulers in millimetres. Printed at full size, it shows how far a printer is out.

Comes in: the paper's size. Goes out: one page. What is measured on it goes to `printer.correction_of`.
"""

from collections.abc import Iterator
from fractions import Fraction

from dosewright.core.paper.drawn import Drawn, join, page_of
from dosewright.core.paper.fit import fit_block, place_block
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.marks import CAUTION
from dosewright.core.paper.page import Line, Page, Rect, Stroke
from dosewright.core.paper.printer import MARK, Measures, nominal_measures
from dosewright.core.paper.words import Para, bold, given, given_bold

__all__ = ["draw_measuring_sheet"]

_ARM = 6.0  # mm of a mark's arms
_TICKS = {10: 5.0, 5: 3.5, 1: 2.0}  # mm of a ruler's strokes at tens, fives and the rest
_SMALL = 7.0  # points
_NARROW = 180.0  # mm: on narrower paper the words begin near the left edge


def draw_measuring_sheet(width: Fraction, height: Fraction, printer: str, fonts: FontSet) -> Page:
    """One page of that size in millimetres. Rulers count from the paper's edges, so a fault is seen at a glance too.

    Raises ValueError for paper too small for what the sheet has to say (smaller than A5).
    """
    meant = nominal_measures(width, height)
    first = (float(MARK), float(MARK))
    second = (first[0] + float(meant.across), first[1] + float(meant.down))
    page = Rect(0, 0, float(width), float(height))
    parts = (
        Drawn(lines=(*_mark(*first), *_mark(*second))),
        *_ruler(page, fonts, along=True),
        *_ruler(page, fonts, along=False),
        _words(page, meant, printer, fonts),
    )
    return page_of(join(parts), page.width, page.height, {"sheet": "measuring"})


def _mark(x: float, y: float) -> tuple[Line, ...]:
    return (Line(x - _ARM, y, x + _ARM, y, Stroke.PLAIN), Line(x, y - _ARM, x, y + _ARM, Stroke.PLAIN))


def _ruler(page: Rect, fonts: FontSet, *, along: bool) -> Iterator[Drawn]:
    """Across the middle of the page (`along`: down it), a stroke a millimetre, a number every ten; it begins where any printer prints."""
    length, middle = (page.height, page.width / 2) if along else (page.width, page.height / 2)
    crossing = round(length / 2)  # of the other ruler, whose strokes would run through a number
    for at in range(10, int(length) - 9):
        reach = next(reach for step, reach in _TICKS.items() if at % step == 0)
        ends = (middle, at, middle + reach, at) if along else (at, middle, at, middle + reach)
        yield Drawn(lines=(Line(*ends),))
        if at % 10 == 0 and abs(at - crossing) > 10:
            yield _number(at, (middle + _TICKS[10] + 0.6, at - 1.6) if along else (at - 3.0, middle + _TICKS[10] + 0.3), page, fonts)


def _number(at: int, place: tuple[float, float], page: Rect, fonts: FontSet) -> Drawn:
    block = fit_block((Para((given(str(at)),), _SMALL, _SMALL),), 8.0, 5.0, fonts)
    return Drawn(runs=place_block(block, *place, page) if block else ())


def _words(page: Rect, meant: Measures, printer: str, fonts: FontSet) -> Drawn:
    """What to do, beside the first mark and clear of both rulers."""
    left = float(MARK) + 10 if page.width > _NARROW else 8.0
    room = Rect(left, float(MARK) + 10, page.width / 2 - left - 3, page.height / 2 - float(MARK) - 12)
    steps = (
        "Print this sheet at full size, without fitting it to the page.",
        "1. Measure from the paper's left edge to the upper left mark.",
        "2. Measure from the paper's upper edge to the same mark.",
        "3. Measure across from that mark to the lower right one.",
        "4. Measure down from that mark to the lower right one.",
        f"Without a fault these are {meant.left}, {meant.top}, {meant.across} and {meant.down} mm.",
        "Enter what you measured, to half a millimetre.",
    )
    paras = (
        Para((bold("Measuring sheet"),), 16.0, 12.0, after=0.8),
        *((Para((given_bold(printer),), 12.0, 9.0, after=0.8),) if printer else ()),
        *(Para((given(step),), 11.0, 7.5, after=0.8) for step in steps),
        Para((given(CAUTION),), 7.5, 7.0),
    )
    block = fit_block(paras, room.width, room.height, fonts)
    if block is None:
        raise ValueError(f"paper of {page.width} by {page.height} mm is too small for a measuring sheet")
    return Drawn(runs=place_block(block, room.left, room.top, page))
