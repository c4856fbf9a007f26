"""One medicine of an administration record, drawn: its words at the left, its dosing times, a box for every day; or boxes to fill in.

Comes in: a `RecordBlock`, the days side by side and where the block stands. Goes out: a `Drawn` part as high as `block_height` says.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from dosewright.core.paper.as_needed import limit_words
from dosewright.core.paper.dates import clock, weekday
from dosewright.core.paper.directions import directions_of
from dosewright.core.paper.drawn import Drawn, join
from dosewright.core.paper.fit import set_block
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import named, placed_words, sentence
from dosewright.core.paper.page import About, Dial, Line, Place, Rect, Shade, Stroke, Zone
from dosewright.core.paper.record_rows import RecordBlock, RecordRow
from dosewright.core.paper.setting import Setting, set_in, setting_of
from dosewright.core.paper.sheet import set_middle, set_text
from dosewright.core.paper.words import Para, bold, given, plain
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import format_amount
from dosewright.core.units.safe_text import tidy_text

__all__ = ["Calendar", "block_height", "draw_block", "draw_calendar"]

_WORDS = 66.0  # mm for the medicine's words
_TIMES = 34.0  # mm for dial, clock time, word and amount
_ROW = 9.0  # mm a row: high enough to sign in
_WIDEST_BOX = 14.0
_DIAL = 3.2
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
# What is written each time a medicine is given on demand: common practice, no source.
_ON_DEMAND = ("date", "time", "amount", "reason", "effect", "signed")
_ON_DEMAND_ROW, _ON_DEMAND_COLUMNS = 6.0, 10
_ON_DEMAND_LEAD = 4.0  # mm for the line that says what a column is: not the day that may stand above it


@dataclass(frozen=True, slots=True)
class Calendar:
    """The days side by side, and how the room across is shared out."""

    days: tuple[date, ...]
    left: float
    width: float

    @property
    def boxes(self) -> float:
        return self.left + _WORDS + _TIMES

    @property
    def box(self) -> float:
        return min(_WIDEST_BOX, (self.left + self.width - self.boxes) / len(self.days))


def draw_calendar(calendar: Calendar, top: float, height: float, person: Person, material: Material) -> Drawn:
    """Weekday, day and month above each column of boxes."""
    parts = []
    for n, day in enumerate(calendar.days):
        rect = Rect(calendar.boxes + n * calendar.box + 0.2, top, calendar.box - 0.4, height)
        words = (weekday(day)[:2], str(day.day), _MONTHS[day.month - 1])
        parts.append(
            set_text([Para((bold(word) if k == 1 else plain(word),), 7.5, 7.0) for k, word in enumerate(words)], rect, material, person)
        )
    return join(parts)


def block_height(block: RecordBlock, material: Material) -> float:
    """Millimetres that the block takes: as much as its words or its rows need."""
    rows = len(block.rows) * _ROW if block.rows else len(_ON_DEMAND) * _ON_DEMAND_ROW + _ON_DEMAND_LEAD
    words = set_block(_words(block, material), _WORDS - 2, material.fonts)
    return max(rows, min(words.height + 1.5, 45.0) if words else 45.0)


def draw_block(block: RecordBlock, calendar: Calendar, top: float, person: Person, material: Material) -> Drawn:
    """The block with its upper edge at `top`."""
    height = block_height(block, material)
    words = set_text(_words(block, material), Rect(calendar.left, top + 0.6, _WORDS - 2, height - 0.6), material, person)
    edge = Line(calendar.left, top, calendar.left + calendar.width, top, Stroke.PLAIN)
    rows = _rows(block, calendar, top, person, material) if block.rows else _on_demand(block, calendar, top, person, material)
    return join((words, Drawn(lines=(edge,)), *rows))


def _words(block: RecordBlock, material: Material) -> tuple[Para, ...]:
    country = material.country
    directions = sentence(directions_of(block.order, material))
    cautions = " ".join(sentence(tidy_text(caution, country)) for caution in block.medicine.cautions)
    where = "In the card." if block.packed else "Alongside, not in a card."
    started = [given(f"{block.order.rx_no}.")] if block.order.rx_no else []
    on_demand = any(dosage.as_needed for dosage in block.order.dosages)
    return (
        Para((bold(named(block.medicine, country)),), 10.5, 8.0),
        *((Para((plain(directions),), 9.5, 7.5),) if directions else ()),
        *((Para((bold(limit_words(block.order.dosages)),), 9.0, 7.5),) if on_demand else ()),
        *((Para((plain(cautions),), 8.0, 7.0),) if cautions else ()),
        Para((bold(where), *([plain("Prescription"), *started] if started else [])), 8.0, 7.0),
    )


def _rows(block: RecordBlock, calendar: Calendar, top: float, person: Person, material: Material) -> Iterator[Drawn]:
    for n, row in enumerate(block.rows):
        y = top + n * _ROW
        about = _about(block, row, person)
        cell = Rect(calendar.left + _WORDS, y, _TIMES, _ROW)
        yield _time_cell(block, row, cell, (*about, f"from {calendar.days[0].isoformat()}"), setting_of(material, person.id))
        boxes = [
            (day, Rect(calendar.boxes + k * calendar.box, y + 0.4, calendar.box - 0.5, _ROW - 0.8)) for k, day in enumerate(calendar.days)
        ]
        zones = tuple(Zone(rect, (*about, day.isoformat())) for day, rect in boxes)
        yield Drawn(places=tuple(Place(rect, shade=_shade(day, row)) for day, rect in boxes), zones=zones)


def _about(block: RecordBlock, row: RecordRow, person: Person) -> About:
    """Whose row it is, of which order, when, how much."""
    return ("row", person.id, block.order.id, clock(row.time), str(row.slot), format_amount(row.quantity.count), str(row.quantity.unit))


def _shade(day: date, row: RecordRow) -> Shade:
    return Shade.NONE if day in row.days else Shade.HATCHED


def _time_cell(block: RecordBlock, row: RecordRow, rect: Rect, about: About, setting: Setting) -> Drawn:
    amount = placed_words(block.medicine, row.quantity, "digits")
    paras = (Para((bold(f"{clock(row.time)} {row.slot}"),), 8.5, 7.0), Para((plain(amount),), 8.5, 7.0))
    inner = Rect(rect.left + 2 * _DIAL + 1.2, rect.top, rect.width - 2 * _DIAL - 2.0, rect.height)
    dial = Dial(rect.left + _DIAL, rect.top + rect.height / 2, _DIAL, row.time)
    return join((set_in(paras, inner, setting, 0.5, about), Drawn(dials=(dial,))))


def _on_demand(block: RecordBlock, calendar: Calendar, top: float, person: Person, material: Material) -> Iterator[Drawn]:
    """No schedule: who gives it writes when, how much and why."""
    right = calendar.left + calendar.width
    box = (right - calendar.boxes) / _ON_DEMAND_COLUMNS
    lead = Para((bold("One column each time it is given,"), plain("from left to right, whatever the day.")), 8.0, 7.0)
    yield set_middle((lead,), Rect(calendar.boxes, top + 0.3, right - calendar.boxes, _ON_DEMAND_LEAD - 0.3), material, person)
    top += _ON_DEMAND_LEAD
    for n, name in enumerate(_ON_DEMAND):
        y = top + n * _ON_DEMAND_ROW
        yield set_middle((Para((plain(name),), 8.5, 7.0),), Rect(calendar.left + _WORDS, y, _TIMES, _ON_DEMAND_ROW), material, person)
        rects = (Rect(calendar.boxes + k * box, y + 0.4, box - 0.5, _ON_DEMAND_ROW - 0.4) for k in range(_ON_DEMAND_COLUMNS))
        yield Drawn(places=tuple(Place(rect) for rect in rects))
