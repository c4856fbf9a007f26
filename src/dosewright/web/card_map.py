"""A card drawn as it lies on the bench: days down, dosing times across, mirrored where it is filled from the back.

Comes in: a planned card, its format, and for each cavity what to say there. Goes out: rows and columns for the template. A roll of pouches
has one row of its own; it is drawn by days and times as well, each pouch once.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.plan_values import Card, PackedCavity

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
    """One place of the grid. `open` is false where the card has no cavity in use.

    `place` is the big numeral ("" for none), `inside` the small one; `spoken` says both in words. `lines` are what it is to hold, where
    that is drawn.
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
    """A dosing time and which of the columns that share it; `slot` is "" where the card does not use the column, `at` None where it is for
    when it is needed.
    """

    column: int
    slot: str = ""
    at: time | None = None
    part: str = ""


@dataclass(frozen=True, slots=True)
class MapRow:
    """The day's name, with its date where every column has the same, and the cells in the order in which they lie. `said` stands in
    its place where no row is a day.
    """

    day: date
    dated: bool
    cells: tuple[MapCell, ...]
    said: str = ""


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


def draw_card(card: Card, form: CardFormat, said: Mapping[Spot, MapCell] = BLANK, *, labels_up: bool = False) -> CardMap:
    """Every cavity at its place; `said` fills in what stands in it. `labels_up`: as it is read, not as it is filled."""
    mirrored = form.filled_from_back and not labels_up and not form.roll
    days = sorted({cavity.day for cavity in card.cavities})
    if form.roll:
        return CardMap(_heads_of_a_roll(card), _rows_of_a_roll(card, days, said), mirrored)
    heads = tuple(_heads(card, form))
    across = heads[::-1] if mirrored else heads
    return CardMap(across, _rows(card, form, tuple(head.column for head in across), said), mirrored)


def _heads(card: Card, form: CardFormat) -> Iterator[MapColumn]:
    used = {column.column: column for column in card.columns}
    for number in range(1, form.columns + 1):
        column = used.get(number)
        part = f"{column.part} of {column.parts}" if column and column.parts > 1 else ""
        at = None if column is None or column.when_needed else column.time
        yield MapColumn(number, column.slot, at, part) if column else MapColumn(number)


def _rows(card: Card, form: CardFormat, across: tuple[int, ...], said: Mapping[Spot, MapCell]) -> tuple[MapRow, ...]:
    by_spot = {(cavity.row, cavity.column): cavity for cavity in card.cavities}
    start, dated = min(column.first for column in card.columns), len({column.first for column in card.columns}) == 1
    cells = {row: tuple(_cell(row, column, by_spot.get((row, column)), said) for column in across) for row in range(1, form.rows + 1)}
    if card.as_needed:
        return tuple(MapRow(start, dated=True, cells=held, said=f"row {row}") for row, held in cells.items())
    return tuple(MapRow(start + timedelta(days=row - 1), dated, held) for row, held in cells.items())


def _rows_of_a_roll(card: Card, days: list[date], said: Mapping[Spot, MapCell]) -> tuple[MapRow, ...]:
    times = sorted({(cavity.time, cavity.part) for cavity in card.cavities})
    found = {(cavity.day, cavity.time, cavity.part): cavity for cavity in card.cavities}
    return tuple(MapRow(day, dated=True, cells=tuple(_pouch(found.get((day, *at)), said) for at in times)) for day in days)


def _heads_of_a_roll(card: Card) -> tuple[MapColumn, ...]:
    first = {(cavity.time, cavity.part): cavity for cavity in reversed(card.cavities)}
    return tuple(
        MapColumn(number, cavity.slot, cavity.time, f"{cavity.part} of {cavity.parts}" if cavity.parts > 1 else "")
        for number, (_, cavity) in enumerate(sorted(first.items()), start=1)
    )


def _pouch(cavity: PackedCavity | None, said: Mapping[Spot, MapCell]) -> MapCell:
    return _cell(cavity.row, cavity.column, cavity, said) if cavity else MapCell(0, 0, open=False)


def _cell(row: int, column: int, cavity: PackedCavity | None, said: Mapping[Spot, MapCell]) -> MapCell:
    if cavity is None:
        return MapCell(row, column, open=False)
    part = f"{cavity.part} of {cavity.parts}" if cavity.parts > 1 else ""
    return replace(said.get((row, column), MapCell(row, column, open=True)), day=cavity.day, part=part)
