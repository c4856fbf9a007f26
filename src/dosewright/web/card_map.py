"""A card drawn as it lies on the bench: days down, dosing times across, mirrored where it is filled from the back.

Comes in: a planned card, its format, and for each cavity what to say there. Goes out: rows and columns for the template. A roll of pouches
has one row of its own; it is drawn by days and times as well, each pouch once.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.plan_values import Card, CardColumn, PackedCavity

__all__ = ["BLANK", "CardMap", "CellLine", "MapCell", "MapColumn", "MapRow", "Spot", "draw_card", "glyph"]

Spot = tuple[int, int]  # row, column of the card, as the plan counts them

_GLYPHS = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔"}


@dataclass(frozen=True, slots=True)
class CellLine:
    """One medicine in a cavity: how much, as a glyph, and its name."""

    glyph: str
    medicine: str


@dataclass(frozen=True, slots=True)
class MapCell:
    """One place of the grid. `lines` are what it is to hold, where that is drawn. `place` is the big numeral ("" for none), `inside` the small one; `spoken` says both in words.

    `open` is false where the card has no cavity in use.
    """

    row: int
    column: int
    open: bool
    day: date | None = None
    part: str = ""
    place: str = ""
    inside: str = ""
    spoken: str = ""
    lines: tuple[CellLine, ...] = ()


@dataclass(frozen=True, slots=True)
class MapColumn:
    """A dosing time, the first day of its days, and which of the columns that share it."""

    column: int
    slot: str
    time: time
    first: date
    part: str


@dataclass(frozen=True, slots=True)
class MapRow:
    """The day's name, with its date where every column has the same, and the cells in the order in which they lie."""

    day: date
    dated: bool
    cells: tuple[MapCell, ...]


@dataclass(frozen=True, slots=True)
class CardMap:
    """The whole drawing. `mirrored`: the card lies face down."""

    columns: tuple[MapColumn, ...]
    rows: tuple[MapRow, ...]
    mirrored: bool


BLANK: Mapping[Spot, MapCell] = {}


def glyph(amount: Fraction) -> str:
    """ "1", "½", "2½", else the exact amount: what stands big in a cavity. Fraction glyphs are allowed on screen."""
    whole, rest = divmod(amount, 1)
    if not rest:
        return str(whole)
    if rest in _GLYPHS:
        return f"{whole or ''}{_GLYPHS[rest]}"
    return f"{amount.numerator}/{amount.denominator}"


def draw_card(card: Card, form: CardFormat, said: Mapping[Spot, MapCell] = BLANK) -> CardMap:
    """Every cavity at its place; `said` fills in what stands in it."""
    columns = sorted(card.columns, key=lambda column: column.column, reverse=form.filled_from_back)
    days = sorted({cavity.day for cavity in card.cavities})
    dated = len({column.first for column in columns}) <= 1
    rows = _rows_of_a_roll(card, days, said) if form.roll else _rows(card, form, tuple(columns), said, dated=dated)
    heads = _heads_of_a_roll(card) if form.roll else tuple(_head(column) for column in columns)
    return CardMap(heads, rows, form.filled_from_back and not form.roll)


def _head(column: CardColumn) -> MapColumn:
    part = f"{column.part} of {column.parts}" if column.parts > 1 else ""
    return MapColumn(column.column, column.slot, column.time, column.first, part)


def _rows(
    card: Card, form: CardFormat, columns: tuple[CardColumn, ...], said: Mapping[Spot, MapCell], *, dated: bool
) -> tuple[MapRow, ...]:
    by_spot = {(cavity.row, cavity.column): cavity for cavity in card.cavities}
    start = min(column.first for column in columns)
    return tuple(
        MapRow(
            start + timedelta(days=row - 1),
            dated,
            tuple(_cell(row, column.column, by_spot.get((row, column.column)), said) for column in columns),
        )
        for row in range(1, form.rows + 1)
    )


def _rows_of_a_roll(card: Card, days: list[date], said: Mapping[Spot, MapCell]) -> tuple[MapRow, ...]:
    times = sorted({(cavity.time, cavity.part) for cavity in card.cavities})
    found = {(cavity.day, cavity.time, cavity.part): cavity for cavity in card.cavities}
    return tuple(MapRow(day, dated=True, cells=tuple(_pouch(found.get((day, *at)), said) for at in times)) for day in days)


def _heads_of_a_roll(card: Card) -> tuple[MapColumn, ...]:
    first = {(cavity.time, cavity.part): cavity for cavity in reversed(card.cavities)}
    return tuple(
        MapColumn(number, cavity.slot, cavity.time, cavity.day, f"{cavity.part} of {cavity.parts}" if cavity.parts > 1 else "")
        for number, (_, cavity) in enumerate(sorted(first.items()), start=1)
    )


def _pouch(cavity: PackedCavity | None, said: Mapping[Spot, MapCell]) -> MapCell:
    return _cell(cavity.row, cavity.column, cavity, said) if cavity else MapCell(0, 0, open=False)


def _cell(row: int, column: int, cavity: PackedCavity | None, said: Mapping[Spot, MapCell]) -> MapCell:
    if cavity is None:
        return MapCell(row, column, open=False)
    part = f"{cavity.part} of {cavity.parts}" if cavity.parts > 1 else ""
    return replace(said.get((row, column), MapCell(row, column, open=True)), day=cavity.day, part=part)
