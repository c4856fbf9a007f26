"""A card's header, set: one label if everything fits at some size down to the floor, else continuation headers ("header 2 of 3").

Somebody whose card could be taken for another's has a border of their own round every header, and the name at 18 points or more.

Comes in: `HeaderText` and the header's box. Goes out: one `Drawn` part for each header, or a `stop` finding. Entries are kept whole.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dosewright.core.packing.plan_values import Card
from dosewright.core.paper.border import BORDER, border_shapes
from dosewright.core.paper.datamatrix import code_at, code_side
from dosewright.core.paper.drawn import Drawn, join
from dosewright.core.paper.fit import STEPS, Block, fit_block, place_block, set_block
from dosewright.core.paper.header_blame import entry_to_blame, field_to_blame
from dosewright.core.paper.header_text import HeaderText, corner_paras
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Figure, Line, Place, Rect, Run, Stroke
from dosewright.core.paper.words import Para, check_paras, plain
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["draw_headers"]

_EDGE = 0.3  # mm from the label's edge to the hairline that shows it on plain paper
_CLEAR = 0.5  # mm from that hairline to a border
_ACROSS, _DOWN = 3.0, 2.5  # mm kept clear inside the label's edge
_GAP = 5.0  # mm between the columns
_CORNER = 46.0  # mm at the right of the strip for the card's number and code
_STAMP = 20.0  # mm, the height of the place for a rubber stamp
_DAYS = 50.0  # mm in the strip's middle for the days
_MANY = 88  # headers: as wide as the corner may have to be
_COLUMN = 90.0  # mm: about sixty letters a line at full size
_STRIPS = (0.4, 0.33, 0.27)  # of the header's height for whose it is: less where an entry, which is kept whole, has no room else

_STAMP_LINE = "Pharmacy's stamp: name, address, telephone"

Column = tuple[tuple[Block, float], ...]  # blocks with the space after each


@dataclass(frozen=True, slots=True)
class _Frame:
    """The fixed parts of every header of a card, set, and the room between them. `above`: a name too long to stand beside the days."""

    text: HeaderText
    above: Block | None
    strip: Block
    days: Block
    foot: Block
    room: Rect
    columns: int
    box: Rect
    inner: Rect

    @property
    def column_width(self) -> float:
        return (self.room.width - _GAP * (self.columns - 1)) / self.columns


def draw_headers(text: HeaderText, card: Card, material: Material, box: Rect, where: dict[str, Fact]) -> tuple[Drawn, ...]:
    """One part for each header label, in order; a single part with findings where it cannot be drawn."""
    every = (*text.strip[1:], *text.days, *corner_paras(text, 1, 2), *text.foot, *(para for entry in text.entries for para in entry))
    whose = {"person": where["person"]}
    findings = (
        *check_paras(text.strip[:1], material.fonts, material.country, whose),
        *check_paras(every, material.fonts, material.country, where),
    )
    if findings:
        return (Drawn(findings=findings),)
    frames = _frames(text, material, box)
    if not frames:
        return (Drawn(findings=(field_to_blame(text, lambda other: bool(_frames(other, material, box)), where),)),)
    flowed = ((frame, _flow_best(text.entries, frame, material)) for frame in frames)
    frame, headers = next(((frame, found) for frame, found in flowed if found is not None), (frames[0], None))
    if headers is None:
        room = frames[-1].room
        return (Drawn(findings=(entry_to_blame(text.entries, frame.column_width, room.height, material.fonts, where),)),)
    if len(headers) > 1 and not material.request.profile.permits("continuation_headers"):
        return (Drawn(findings=(_stop("paper.header-needs-continuation", where),)),)
    return tuple(_draw(frame, header, (n + 1, len(headers)), card, material) for n, header in enumerate(headers))


def _frames(text: HeaderText, material: Material, box: Rect) -> list[_Frame]:
    """The fixed parts set in each share of the header's height that holds them; the last leaves the most room between them."""
    return [frame for share in _STRIPS if (frame := _frame(text, material, box, share))]


def _frame(text: HeaderText, material: Material, box: Rect, share: float) -> _Frame | None:
    inner = _inner(text, box)
    corner = _set_corner(text, (_MANY, _MANY), material)
    days = fit_block(text.days, _DAYS, inner.height * share, material.fonts)
    above, strip = _set_strip(text, inner, material, share)
    foot = fit_block(text.foot, inner.width, inner.height * 0.3, material.fonts)
    if strip is None or days is None or corner is None or foot is None:
        return None
    top = inner.top + (above.height if above else 0.0) + max(strip.height, days.height, corner.height) + 1.6
    bottom = inner.bottom - foot.height - 1.5
    room = Rect(inner.left, top, inner.width, bottom - top)
    return (
        _Frame(text, above, strip, days, foot, room, max(1, int((inner.width + _GAP) // _COLUMN)), box, inner) if room.height > 0 else None
    )


def _set_strip(text: HeaderText, inner: Rect, material: Material, share: float) -> tuple[Block | None, Block | None]:
    """All of the strip beside the days; else the name over the whole width, and the rest of the strip below it."""
    beside, high = inner.width - _CORNER - _DAYS - 2 * _GAP, inner.height * share
    if strip := fit_block(text.strip, beside, high, material.fonts):
        return None, strip
    above = fit_block(text.strip[:1], inner.width, high * 0.6, material.fonts)
    return above, fit_block(text.strip[1:], beside, high * 0.6, material.fonts) if above else None


def _inner(text: HeaderText, box: Rect) -> Rect:
    """What is kept for text: inside the edge, and inside the border where there is one."""
    border = BORDER if text.pattern else 0.0
    return box.inset(_ACROSS + border, _DOWN + border)


def _border(text: HeaderText, box: Rect) -> tuple[Figure, ...]:
    """The person's own border, just inside the line that shows the label's edge."""
    edge = box.inset(_EDGE + _CLEAR, _EDGE + _CLEAR)
    return (Figure(border_shapes(edge, text.pattern), edge),) if text.pattern else ()


def _set_corner(text: HeaderText, number: tuple[int, int], material: Material) -> Block | None:
    return fit_block(corner_paras(text, *number), _CORNER - code_side(text.number, material.printer.dpi) - 2, 20.0, material.fonts)


def _flow_best(entries: Sequence[tuple[Para, ...]], frame: _Frame, material: Material) -> tuple[tuple[Column, ...], ...] | None:
    """One header at the largest size that allows it; else the fewest headers that any size allows, at the largest that needs no more."""
    tried = [flowed for step in STEPS if (flowed := _flow(entries, frame, material, step)) is not None]
    return min(tried, key=len) if tried else None


def _flow(entries: Sequence[tuple[Para, ...]], frame: _Frame, material: Material, step: float) -> tuple[tuple[Column, ...], ...] | None:
    columns: list[list[tuple[Block, float]]] = [[]]
    used = 0.0
    for entry in entries:
        block = set_block(entry, frame.column_width, material.fonts, step)
        if block is None or block.height > frame.room.height:
            return None
        if used + block.height > frame.room.height:
            columns.append([])
            used = 0.0
        columns[-1].append((block, entry[-1].after))
        used += block.height + entry[-1].after
    stamp = _stamp(frame, material)
    if stamp is not None:
        if used + stamp.height > frame.room.height:
            columns.append([])
        columns[-1].append((stamp, 0.0))
    return tuple(tuple(tuple(c) for c in columns[n : n + frame.columns]) for n in range(0, len(columns), frame.columns))


def _draw(frame: _Frame, header: tuple[Column, ...], number: tuple[int, int], card: Card, material: Material) -> Drawn:
    box, inner = frame.box, frame.inner
    top = inner.top + (frame.above.height if frame.above else 0.0)
    code = code_at(card.number, inner.right, top, material.printer.dpi)
    right, corner = inner.right - _CORNER, _set_corner(frame.text, number, material)
    runs = [
        *(place_block(frame.above, inner.left, inner.top, box) if frame.above else ()),
        *place_block(frame.strip, inner.left, top, box),
        *place_block(frame.days, right - _GAP - _DAYS, top, box),
        *(place_block(corner, right, top, box) if corner else ()),
        *place_block(frame.foot, inner.left, inner.bottom - frame.foot.height, box),
    ]
    placed = _place_columns(frame, header, material)
    rules = [Line(inner.left, frame.room.top - 1, inner.right, frame.room.top - 1, Stroke.PLAIN)]
    rules.append(Line(inner.left, frame.room.bottom + 1, inner.right, frame.room.bottom + 1))
    edge = Drawn(
        runs=tuple(runs),
        lines=tuple(rules),
        places=(Place(box.inset(_EDGE, _EDGE), radius=1.5),),
        codes=(code,),
        figures=_border(frame.text, box),
    )
    return join((edge, placed))


def _place_columns(frame: _Frame, header: tuple[Column, ...], material: Material) -> Drawn:
    """The header's entries, and the frame of the place for a stamp."""
    runs: list[Run] = []
    places: list[Place] = []
    for n, column in enumerate(header):
        left, top = frame.room.left + n * (frame.column_width + _GAP), frame.room.top
        for block, after in column:
            inset = 0.0
            if block.height == _STAMP and material.pharmacy.by_stamp:
                places.append(Place(Rect(left, top, frame.column_width, _STAMP), Stroke.PLAIN))
                inset = 1.0
            runs += place_block(block, left + inset, top + inset, frame.box)
            top += block.height + after
    return Drawn(runs=tuple(runs), places=tuple(places))


def _stamp(frame: _Frame, material: Material) -> Block | None:
    """After the last medicine, where no pharmacy is named: a place to stamp, with its caption."""
    if not material.pharmacy.by_stamp:
        return None
    caption = fit_block((Para((plain(_STAMP_LINE),), 7.5, 7.0),), frame.column_width - 3, _STAMP, material.fonts)
    return replace(caption, height=_STAMP) if caption else None


def _stop(code: str, where: dict[str, Fact]) -> Finding:
    return Finding(code, Severity.STOP, where)
