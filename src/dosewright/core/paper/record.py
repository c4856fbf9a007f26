"""The administration record of one person for a cycle or a month: every medicine, every dosing time, a box a day to sign.

Packed medicines, those alongside and those given on demand are all on it. A box that is not due is hatched. Comes in: one person of a
plan. Goes out: A4 pages across, with codes, signatures and room for handwritten entries that two people sign.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.apart_marks import check_second_identifier
from dosewright.core.paper.as_needed import lacking_limits
from dosewright.core.paper.dates import long_day, span_of_days
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.due import check_due
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Page, Rect
from dosewright.core.paper.record_block import Calendar, block_height, draw_block, draw_calendar
from dosewright.core.paper.record_foot import LEGEND_HEIGHT, NOTES_HEIGHT, draw_legend, draw_notes
from dosewright.core.paper.record_rows import RecordBlock, record_blocks
from dosewright.core.paper.setting import setting_of
from dosewright.core.paper.sheet import A4_ACROSS, Frame, Sheet, finish_sheets, frame_strip, strip_of
from dosewright.core.paper.words import Para, bold, given, plain
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["RECORD_TITLE", "draw_record", "stretches"]

_MOST_DAYS = 31  # boxes side by side that can still be signed in: 5.7 mm each
_MOST_ROWS = 12  # of one block on one sheet
_CALENDAR = 11.0  # mm for the days above the boxes
_GAP = 1.2


RECORD_TITLE = "Administration record"


def draw_record(person: PersonPlan, material: Material, made: datetime | None = None) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """All sheets of the record for the request's days; none for somebody who has no order. `made`: when, else the day of preparation.

    A `stop` where a card of the person holds otherwise than the orders say; a `note` for an as-needed order without its limits.
    """
    blocks = [part for block in record_blocks(person, material) for part in _parts(block)]
    if not blocks:
        return (), ()
    who, request = material.person(person.person), material.request
    strip = strip_of(who, material, made or request.prepared_on)
    frame = frame_strip(Sheet(RECORD_TITLE, "", A4_ACROSS), strip, setting_of(material, who.id), _lines(person, material))
    sheets = [
        sheet
        for days in stretches(request.first, request.days)
        for sheet in _sheets(blocks, Calendar(days, frame.room.left, frame.room.width), frame, (who, material))
    ]
    pages = finish_sheets(sheets, frame, A4_ACROSS, material, {"person": person.person, "sheet": "record"})
    found = (
        *check_second_identifier(person.person, material),
        *check_due(person, material, request.first, request.days),
        *_lacking(blocks, person),
    )
    return pages, once((*(finding for part in (frame.edges, *sheets) for finding in part.findings), *found))


def _lacking(blocks: Sequence[RecordBlock], person: PersonPlan) -> Iterator[Finding]:
    """As-needed orders that do not say how much at most, or how far apart."""
    for block in (block for block in blocks if any(dosage.as_needed for dosage in block.order.dosages)):
        if lacking := lacking_limits(block.order.dosages):
            where: dict[str, Fact] = {"person": person.person, "order": block.order.id, "medicine": block.medicine.label}
            yield Finding("paper.as-needed-limit-not-stated", Severity.NOTE, where, {"lacking": " and ".join(lacking)})


def _lines(person: PersonPlan, material: Material) -> tuple[Para, ...]:
    """Which days, which cards, and allergies: known, or to be written in."""
    request = material.request
    cards = ", ".join(card.number for card in person.cards)
    known = material.allergies.get(person.person, "")
    days = Para(
        (
            bold(span_of_days(request.first, request.last)),
            *((plain("Card" if len(person.cards) == 1 else "Cards"), given(f"{cards}.")) if cards else ()),
        ),
        10.0,
        8.0,
    )
    allergies = Para(
        (bold("Allergies:"), given(known) if known else plain("not stated to the pharmacy; write here: ____________________")), 10.0, 8.0
    )
    waiting = (card for card in person.scheduled if card.number in material.waiting)
    as_they_are = (f"Card {card.number} goes on as it is to {long_day(card.last)}. What changes begins after it." for card in waiting)
    return days, *(Para((bold(words),), 10.0, 8.0) for words in as_they_are), allergies


def stretches(first: date, many: int) -> Iterator[tuple[date, ...]]:
    """The days, at most a month side by side, in equal stretches."""
    days = [first + timedelta(days=n) for n in range(many)]
    count = -(-len(days) // _MOST_DAYS)
    size = -(-len(days) // count)
    for n in range(0, len(days), size):
        yield tuple(days[n : n + size])


def _parts(block: RecordBlock) -> Iterator[RecordBlock]:
    """A block with very many rows is drawn in parts, each with the medicine's words."""
    if len(block.rows) <= _MOST_ROWS:
        yield block
        return
    for n in range(0, len(block.rows), _MOST_ROWS):
        yield replace(block, rows=block.rows[n : n + _MOST_ROWS])


def _sheets(blocks: Sequence[RecordBlock], calendar: Calendar, frame: Frame, who: tuple[Person, Material]) -> list[Drawn]:
    """Blocks one below the other; a new sheet, with its days and codes, where one does not fit; the notes after the last."""
    person, material = who
    lowest = frame.room.bottom - LEGEND_HEIGHT
    laid: list[list[tuple[RecordBlock, float]]] = []
    top = lowest
    for block in blocks:
        height = block_height(block, material)
        if top + height > lowest:
            laid.append([])
            top = frame.room.top + _CALENDAR
        laid[-1].append((block, top))
        top += height + _GAP
    sheets = [
        [
            *_opening(calendar, frame, who, dated=any(block.rows for block, _ in sheet)),
            *(draw_block(block, calendar, at, person, material) for block, at in sheet),
        ]
        for sheet in laid
    ]
    height = NOTES_HEIGHT
    if top + NOTES_HEIGHT > lowest:
        sheets.append([])
        height = lowest - frame.room.top
    sheets[-1].append(draw_notes(Rect(frame.room.left, lowest - height, frame.room.width, height), person, material))
    return [join(sheet) for sheet in sheets]


def _opening(calendar: Calendar, frame: Frame, who: tuple[Person, Material], *, dated: bool) -> list[Drawn]:
    """The codes; and the days, unless every box of the sheet is filled in by hand: a column under a day would seem to be that day's."""
    room = frame.room
    legend = Rect(room.left, room.bottom - LEGEND_HEIGHT + 0.8, room.width, LEGEND_HEIGHT - 0.8)
    return [*([draw_calendar(calendar, room.top, _CALENDAR, *who)] if dated else []), draw_legend(legend, *who)]
