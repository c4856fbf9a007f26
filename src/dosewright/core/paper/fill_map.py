"""One medicine's amounts drawn over the card's grid: large, what to place now; small, what is in the cavity already.

The card is drawn as it lies on the bench: mirrored, and said so, where the format is filled from the back. A pouch roll is drawn as its
pouches in order. Comes in: a card, amounts, pieces already in. Goes out: a `Drawn` part.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from dosewright.core.packing.plan_values import Card, CardColumn
from dosewright.core.paper.dates import clock, short_day, weekday
from dosewright.core.paper.drawn import Drawn, join
from dosewright.core.paper.fetch import Amounts
from dosewright.core.paper.fit import STEPS, fit_block
from dosewright.core.paper.joints import BIND
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import About, Dial, Face, Kind, Place, Rect, Stroke, Zone
from dosewright.core.paper.sheet import set_middle, set_text
from dosewright.core.paper.words import Para, Words, bold, plain
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.person import Person

__all__ = ["CardMap", "draw_card_map"]

_NOW, _NOW_FLOOR = 17.0, 8.0  # points: the amount to place
_IN, _IN_FLOOR = 7.5, 7.0
_HEAD, _HEAD_FLOOR = 9.0, 7.0
_SIDE = 18.0  # mm for the days at the left
_TOP = 13.0  # mm for the dosing times above
_GAP = 0.8  # mm between cavities
_DIAL = 2.6
_POUCHES_ACROSS = 7
_CORNER, _CORNER_HEIGHT = 8.0, 3.4  # mm in a cavity's lower right corner for what is in already


@dataclass(frozen=True, slots=True)
class CardMap:
    """Amounts to place now and pieces that are in already, by row and column. One map serves all `cards` that it is true of."""

    cards: tuple[Card, ...]
    now: Amounts
    already: dict[tuple[int, int], int]
    about: About = ()  # of a map that is recounted: whose, and which medicine

    @property
    def card(self) -> Card:
        """The first, which is drawn."""
        return self.cards[0]

    @property
    def dated(self) -> bool:
        """Whether each row is one date: of a single card whose columns run side by side. Else rows are weekdays, or doses when needed."""
        return len(self.cards) == 1 and not self.card.as_needed and len({column.first for column in self.card.columns}) == 1


def draw_card_map(card_map: CardMap, box: Rect, person: Person, material: Material) -> Drawn:
    """The map in its box. Cavities of the card that stay empty are drawn too: the grid is the whole card."""
    grid = _roll(card_map, box, material) if material.request.format.roll else _grid(card_map, box, material)
    return join(_draw_cell(cell, card_map, person, material) for cell in grid)


@dataclass(frozen=True, slots=True)
class _Cell:
    """A rectangle of the map: a cavity (with what goes in), or a heading beside it."""

    rect: Rect
    now: Fraction | None = None
    already: int = 0
    cavity: bool = True
    heading: tuple[str, ...] = ()
    dial: CardColumn | None = None
    place: tuple[int, int] = (0, 0)


def _grid(card_map: CardMap, box: Rect, material: Material) -> Iterator[_Cell]:
    form, card = material.request.format, card_map.card
    wide, high = (box.width - _SIDE) / form.columns, (box.height - _TOP) / form.rows
    for column in card.columns:
        left = box.left + _SIDE + _across(column.column, material) * wide
        yield _Cell(Rect(left, box.top, wide, _TOP), cavity=False, heading=_column_words(column, card_map), dial=_dial(column))
    for row in range(1, form.rows + 1):
        top = box.top + _TOP + (row - 1) * high
        yield _Cell(Rect(box.left, top, _SIDE, high), cavity=False, heading=_row_words(card_map, row))
        for column_number in range(1, form.columns + 1):
            place = (row, column_number)
            rect = Rect(box.left + _SIDE + _across(column_number, material) * wide, top, wide, high)
            yield _Cell(rect.inset(_GAP / 2, _GAP / 2), card_map.now.get(place), card_map.already.get(place, 0), place=place)


def _across(column: int, material: Material) -> int:
    """How many columns stand to the left of this one on the bench."""
    form = material.request.format
    return form.columns - column if form.filled_from_back else column - 1


def _roll(card_map: CardMap, box: Rect, material: Material) -> Iterator[_Cell]:
    columns = card_map.card.columns
    rows = -(-len(columns) // _POUCHES_ACROSS)
    wide, high = box.width / _POUCHES_ACROSS, min(box.height / rows, 30.0)
    for n, column in enumerate(columns):
        down, across = divmod(n, _POUCHES_ACROSS)
        rect = Rect(box.left + across * wide, box.top + down * high, wide, high).inset(_GAP / 2, _GAP / 2)
        place = (1, column.column)
        part = f", {column.part} of {column.parts}" if column.parts > 1 else ""
        words = (short_day(column.first), f"{clock(column.time)}{part}")
        yield _Cell(rect, card_map.now.get(place), card_map.already.get(place, 0), heading=words, place=place)


def _dial(column: CardColumn) -> CardColumn | None:
    return None if column.when_needed else column


def _column_words(column: CardColumn, card_map: CardMap) -> tuple[str, ...]:
    if column.when_needed:
        return ("when", "needed")
    part = (f"{column.part} of {column.parts}",) if column.parts > 1 else ()
    start = () if card_map.dated or len(card_map.cards) > 1 else (f"from {short_day(column.first)[4:]}",)
    return (clock(column.time), str(column.slot), *part, *start)


def _row_words(card_map: CardMap, row: int) -> tuple[str, ...]:
    """The date where it is one, else the weekday: the columns, or the list of cards, then say from when they run."""
    if card_map.card.as_needed:
        return (f"row {row}",)
    day = card_map.card.columns[0].first + timedelta(days=row - 1)
    return (_bound(day) if card_map.dated else weekday(day),)


def _bound(day: date) -> str:
    return short_day(day).replace(" ", BIND)


def _draw_cell(cell: _Cell, card_map: CardMap, person: Person, material: Material) -> Drawn:
    if not cell.cavity:
        return _draw_heading(cell, person, material)
    parts = [Drawn(places=(Place(cell.rect, Stroke.HEAVY if cell.now else Stroke.HAIR, radius=1.2),))]
    inner = cell.rect.inset(1.0, 0.2)
    if cell.heading:
        parts.append(
            set_text(
                [Para((plain(words),), 7.0, 7.0) for words in cell.heading], Rect(inner.left, inner.top, inner.width, 6.8), material, person
            )
        )
        inner = Rect(inner.left, inner.top + 6.8, inner.width, inner.height - 6.8)
    if cell.now:
        # In a narrow cavity "1 and a half" may stand on two lines: nothing else is beside it.
        amount = Para((Words(format_count(cell.now), Face.BOLD, Kind.MEDICINE),), _NOW, _NOW_FLOOR)
        rect = _clear_of_corner(amount, inner, cell, material)
        zones = (Zone(rect, (*card_map.about, card.number, *map(str, cell.place))) for card in card_map.cards if card_map.about)
        parts += (set_middle((amount,), rect, material, person), Drawn(zones=tuple(zones)))
    if cell.already:
        corner = Rect(inner.right - _CORNER + 0.5, inner.bottom - _CORNER_HEIGHT, _CORNER - 0.5, _CORNER_HEIGHT)
        parts.append(set_text((Para((plain(f"{cell.already} in"),), _IN, _IN_FLOOR),), corner, material, person))
    return join(parts)


def _clear_of_corner(amount: Para, inner: Rect, cell: _Cell, material: Material) -> Rect:
    """Beside the small number where the amount fits there in large type, else above it: the two must not be read as one."""
    if not cell.already:
        return inner
    beside = Rect(inner.left, inner.top, inner.width - _CORNER, inner.height)
    if fit_block((amount,), beside.width, beside.height, material.fonts, STEPS[:6]) is not None:
        return beside
    return Rect(inner.left, inner.top, inner.width, inner.height - _CORNER_HEIGHT)


def _draw_heading(cell: _Cell, person: Person, material: Material) -> Drawn:
    indent = 2 * _DIAL + 1.5 if cell.dial else 0.0
    rect = Rect(cell.rect.left + indent + 0.5, cell.rect.top, cell.rect.width - indent - 1.0, cell.rect.height)
    paras = [Para((bold(text),), _HEAD, _HEAD_FLOOR) for text in cell.heading]
    if cell.dial is None:
        return set_middle(paras, rect, material, person)
    words = set_text(paras, rect, material, person)
    dial = Dial(cell.rect.left + _DIAL + 0.6, cell.rect.top + _DIAL + 0.5, _DIAL, cell.dial.time)
    return join((words, Drawn(dials=(dial,))))
