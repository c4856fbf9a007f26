"""The fill screen: one medicine at a time over the card, and the one thing to do now.

Comes in: a card at the bench, the medicine asked for, and the bottle in the hand if one was scanned. Goes out: `FillScreen`. The steps:
`blocked` (nothing may be placed), `scan` (fetch and scan), `lot` (the code did not say lot or expiry), `place`, `filled` (all is in).
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Literal

from dosewright.core.checking.filled import FilledCard
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.event import Deed
from dosewright.core.custody.follow import check_follows
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.supply.lots import Stock, Take, allocate
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import OpenCell
from dosewright.core.supply.whole_units import Draw, draw_whole_units
from dosewright.core.units.amount_words import format_quantity, plural_unit
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.quantity import Quantity
from dosewright.store.stock import load_stock
from dosewright.web.bench_card import BenchCard
from dosewright.web.card_map import CardMap, MapCell, Spot, draw_card, glyph
from dosewright.web.scanned import InHand

__all__ = ["FillScreen", "Halt", "Now", "fill_screen"]

FillStep = Literal["blocked", "scan", "lot", "place", "filled"]


@dataclass(frozen=True, slots=True)
class Halt:
    """Something in the hand is not what the card asks for: stop, and what would mend it."""

    title: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Now:
    """The medicine that is filled now: which of how many, its words, what is open, and what to fetch for it."""

    code: MedicineCode
    position: int
    of: int
    name: str
    strength: str
    appearance: str
    unit: str
    unit_word: str
    draw: Draw
    cavities: int
    fetch: tuple[Take, ...]
    owing: Fraction
    alike: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FillScreen:
    """Everything that the fill page says. `partly`: the hand stopped part way, and ticks what is in.

    `lot_has`: what the records say is in stock of the lot in the hand, where that is too little for all. `cells`: what was open when the
    screen was drawn, as the form sends it back. `other`: the medicine that could be done first, "" where there is no other.
    `batch`: the batch that is filled medicine by medicine, as `web.batch` writes it, "" where the card is filled alone.
    """

    number: str
    step: FillStep
    map: CardMap
    token: str
    now: Now | None = None
    bottle: InHand | None = None
    halt: Halt | None = None
    findings: tuple[Finding, ...] = ()
    medicines: int = 0
    cells: tuple[str, ...] = ()
    partly: bool = False
    other: str = ""
    lot_has: Fraction | None = None
    batch: str = ""


def fill_screen(card: BenchCard, token: str, *, wanted: str = "", bottle: InHand | None = None, halt: Halt | None = None) -> FillScreen:
    """The screen as the card stands now; `wanted` is the medicine to show where it is still open, else the first that is."""
    number, medicines, filled = card.stored.number, card.filling_order, card.stored.filled
    blocked = check_follows(card.stored.state, Deed.PLACED)
    if blocked:
        return FillScreen(number, "blocked", _map(card, filled, {}), token, findings=blocked, medicines=len(medicines))
    opened = {code: cells for code in medicines if (cells := still_open([filled], code))}
    if not opened:
        return FillScreen(number, "filled", _map(card, filled, {}), token, medicines=len(medicines))
    code = MedicineCode(wanted) if wanted in opened else next(iter(opened))
    stock = load_stock(code)
    now = _now(card, code, opened[code], stock)
    step: FillStep = "scan" if bottle is None or halt else ("place" if bottle.complete else "lot")
    drawn, other = _map(card, filled, opened[code]), _other(tuple(opened), code)
    seen = format_cells({cell: asked.amount for cell, asked in opened[code].items()})
    screen = FillScreen(number, step, drawn, token, now, bottle, halt, medicines=len(medicines), cells=seen, other=other)
    has = _lot_has(now, bottle, stock) if bottle else None
    return screen if has is None else replace(screen, partly=True, lot_has=has)


def _lot_has(now: Now, bottle: InHand, stock: tuple[Stock, ...]) -> Fraction | None:
    """How much of the bottle's lot is in stock by the records, where that is less than is asked for."""
    held = sum((lot.amount for lot in stock if lot.batch.lot == bottle.lot), Fraction(0))
    return held if bottle.complete and held < now.draw.whole else None


def _other(opened: tuple[MedicineCode, ...], code: MedicineCode) -> str:
    """The next that is open, and round again; "" where there is none but this."""
    after = opened[(opened.index(code) + 1) % len(opened)]
    return "" if after == code else after


def _open_spots(cells: Mapping[Cell, OpenCell]) -> dict[Spot, Fraction]:
    """How much each cavity still asks for, all orders of the medicine together."""
    spots: dict[Spot, Fraction] = defaultdict(Fraction)
    for cell, asked in cells.items():
        spots[cell.row, cell.column] += asked.amount
    return dict(spots)


def _now(card: BenchCard, code: MedicineCode, cells: Mapping[Cell, OpenCell], stock: tuple[Stock, ...]) -> Now:
    medicine, medicines = card.medicines[code], card.filling_order
    draw = draw_whole_units(asked.amount for asked in cells.values())
    fetch, owing = allocate(stock, Fraction(draw.whole), _last_day(cells))
    return Now(
        code=code,
        position=medicines.index(code) + 1,
        of=len(medicines),
        name=medicine.name,
        strength=" ".join(part for part in (medicine.strength, medicine.form) if part),
        appearance=card.looks(code),
        unit=medicine.unit,
        unit_word=plural_unit(medicine.unit, Fraction(draw.whole)),
        draw=draw,
        cavities=len(_open_spots(cells)),
        fetch=fetch,
        owing=owing,
        alike=tuple(card.name_of(other) for other in medicines if other != code and _look_alike(medicine, card.medicines[other])),
    )


def _last_day(cells: Mapping[Cell, OpenCell]) -> date:
    return max(asked.beyond_use for asked in cells.values())


def _look_alike(one: Medicine, other: Medicine) -> bool:
    """The same colour and outline: worth a word while both bottles may be open."""
    return bool(one.colour) and (one.colour, one.shape) == (other.colour, other.shape)


def _map(card: BenchCard, filled: FilledCard, cells: Mapping[Cell, OpenCell]) -> CardMap:
    spots = _open_spots(cells)
    said = {}
    for cavity in filled.cavities:
        spot = (cavity.row, cavity.column)
        inside = sum((units.amount for units in cavity.placements), Fraction(0))
        unit = next((card.medicines[cell_code].unit for cell_code, _ in cavity.wanted.values()), "unit")
        said[spot] = _cell(spot, spots.get(spot, Fraction(0)), inside, str(unit))
    return draw_card(card.stored.card, card.rules.card_format, said)


def _cell(spot: Spot, place: Fraction, inside: Fraction, unit: str) -> MapCell:
    words = [f"place {_words(place, unit)}"] if place else []
    words.append(f"{_words(inside, 'unit')} in" if inside else "nothing in")
    return MapCell(
        *spot, open=True, place=glyph(place) if place else "", inside=f"{glyph(inside)} in" if inside else "", spoken=", ".join(words)
    )


def _words(amount: Fraction, unit: str) -> str:
    return format_quantity(Quantity(amount, unit))  # type: ignore[arg-type]
