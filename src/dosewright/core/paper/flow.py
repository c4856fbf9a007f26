"""Entries flow over pages: a head with its rows, kept together where a page holds them, else parted between rows with the head said again.

Comes in: entries whose parts are already set at their size, and the room of a page. Goes out: one `Drawn` part a page. Nothing is made
smaller, cut or left out; what is higher than a page is the caller's to find beforehand (`too_high`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import time

from dosewright.core.paper.drawn import Drawn, join
from dosewright.core.paper.fit import Block, place_block
from dosewright.core.paper.page import About, Dial, Line, Rect, Stroke, Zone
from dosewright.core.paper.setting import Setting, measure
from dosewright.core.paper.words import Para
from dosewright.core.units.finding import Finding

__all__ = ["Entry", "FlowPart", "Rows", "entry_of", "flow", "too_high"]


@dataclass(frozen=True, slots=True)
class FlowPart:
    """A set block, `indent` millimetres from the room's left; `about` makes it a zone; `dial` stands before it with this radius."""

    block: Block
    indent: float = 0.0
    about: About = ()
    dial: time | None = None
    radius: float = 0.0
    after: float = 0.0
    least: float = 0.0  # mm the part takes at least: room for a dial beside a single line

    @property
    def height(self) -> float:
        """Millimetres without what comes after."""
        return max(self.block.height, self.least)


@dataclass(frozen=True, slots=True)
class Entry:
    """`head` opens it, `again` opens its next page; `rule`: a hairline above it. `alone`: the next entry must follow on the same page."""

    head: FlowPart
    again: FlowPart
    rows: tuple[FlowPart, ...] = ()
    rule: bool = True
    after: float = 3.0
    leads: bool = False


Rows = Sequence[tuple[Sequence[Para], About]]  # paragraphs of each row, and what the row is about (nothing: no zone)


def entry_of(head: Sequence[Para], rows: Rows, width: float, setting: Setting) -> Entry | tuple[Finding, ...]:
    """The entry with its rows 6 mm further in, at full size; or the findings why it cannot be set."""
    first = measure(head, width, setting)
    parts = [(measure(paras, width - 6.0, setting), about) for paras, about in rows]
    faults = tuple(found for block in (first, *(block for block, _ in parts)) if isinstance(block, tuple) for found in block)
    if isinstance(first, tuple) or faults:
        return faults
    under = tuple(FlowPart(block, 6.0, about, after=0.7) for block, about in parts if isinstance(block, Block))
    return Entry(FlowPart(first, after=1.0), FlowPart(first, after=1.0), under, after=4.0)


def too_high(entries: Sequence[Entry], height: float) -> bool:
    """Whether some row cannot stand on any page, under its head."""
    return any(max(one.head.height, one.again.height) + row.height + one.head.after > height for one in entries for row in one.rows)


def flow(entries: Sequence[Entry], room: Rect) -> tuple[Drawn, ...]:
    """The pages, at least one."""
    pages: list[list[Drawn]] = [[]]
    top = room.top
    for n, entry in enumerate(entries):
        needed = _height(entry) + (_lead(entries[n + 1], room) if entry.leads and n + 1 < len(entries) else 0.0)
        kept = needed if needed <= room.height else _least(entry)
        if top > room.top and top + kept > room.bottom + 1e-6:
            pages, top = [*pages, []], room.top
        if entry.rule and top > room.top:
            pages[-1].append(Drawn(lines=(Line(room.left, top - 1.5, room.right, top - 1.5, Stroke.HAIR),)))
        pages[-1].append(_place(entry.head, room, top))
        top += entry.head.height + entry.head.after
        for row in entry.rows:
            if top + row.height > room.bottom + 1e-6:
                pages, top = [*pages, []], room.top
                pages[-1].append(_place(entry.again, room, top))
                top += entry.again.height + entry.again.after
            pages[-1].append(_place(row, room, top))
            top += row.height + row.after
        top += entry.after
    return tuple(join(page) for page in pages)


def _lead(after: Entry, room: Rect) -> float:
    """Millimetres of what must follow a heading: the next entry, or its beginning where it is parted anyway."""
    return _height(after) if _height(after) <= room.height / 2 else _least(after)


def _height(entry: Entry) -> float:
    return entry.head.height + entry.head.after + sum(row.height + row.after for row in entry.rows)


def _least(entry: Entry) -> float:
    """Millimetres of a head with its first row: a head never stands alone at a page's foot."""
    return entry.head.height + entry.head.after + (entry.rows[0].height if entry.rows else 0.0)


def _place(part: FlowPart, room: Rect, top: float) -> Drawn:
    return join(_pieces(part, Rect(room.left + part.indent, top, room.width - part.indent, part.height)))


def _pieces(part: FlowPart, box: Rect) -> Iterator[Drawn]:
    at = box.top + (part.height - part.block.height) / 2
    zones = (Zone(Rect(box.left, at, box.width, part.block.height), part.about),) if part.about else ()
    yield Drawn(runs=place_block(part.block, box.left, at, box), zones=zones)
    if part.dial is not None:
        yield Drawn(dials=(Dial(box.left - part.radius - 2.5, box.top + part.height / 2, part.radius, part.dial),))
