"""Placing one medicine over the cells of a set: what may be laid down, and the movements of stock that it means.

Comes in: the cells that still ask for the medicine, with their days; the cells that somebody filled; the lot and how much of it is in
stock. Goes out: findings, and the movements: whole units leave the bottle, the part left over is accounted for as waste.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import Batch, Movement, MovementKind
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.receiving import check_lot_in_use
from dosewright.core.supply.whole_units import draw_whole_units
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber

__all__ = ["OpenCell", "check_placing", "first_cells", "placing_movements"]


@dataclass(frozen=True, slots=True)
class OpenCell:
    """What a cell still asks for, the day it is for, and the last day that its card's label promises."""

    amount: Fraction
    day: date
    beyond_use: date


def first_cells(still: Mapping[Cell, OpenCell], units: Fraction) -> dict[Cell, Fraction]:
    """The cells that so many units fill whole, in the order given: what was done before somebody stopped part way."""
    chosen: dict[Cell, Fraction] = {}
    for cell, asked in still.items():
        if asked.amount > units:
            break
        chosen[cell] = asked.amount
        units -= asked.amount
    return chosen


def check_placing(cells: Mapping[Cell, Fraction], still: Mapping[Cell, OpenCell], stock: Stock, expiry: date) -> tuple[Finding, ...]:
    """Everything against laying these cells: a lot that is recalled, nothing to place, a cell that asks for less (or that another station
    filled), a dose after the lot's last day (R5), a lot of another expiry, too little in stock. All at once."""
    return tuple(_check(cells, still, stock, expiry))


def _check(cells: Mapping[Cell, Fraction], still: Mapping[Cell, OpenCell], stock: Stock, expiry: date) -> Iterator[Finding]:
    batch = stock.batch
    if not cells:
        yield Finding("supply.nothing-to-place", Severity.STOP, {"medicine": batch.medicine})
    yield from check_lot_in_use(stock)
    if batch.expiry != expiry:
        yield _about(batch, "supply.lot-expiry-clash", known=batch.expiry, given=expiry)
    for cell, amount in sorted(cells.items()):
        yield from _check_cell(cell, amount, still.get(cell), batch)
    needed = Fraction(draw_whole_units(cells.values()).whole)
    if needed > stock.amount:
        yield _about(batch, "supply.not-enough", needed=needed, stock=stock.amount)


def _check_cell(cell: Cell, amount: Fraction, asked: OpenCell | None, batch: Batch) -> Iterator[Finding]:
    where: dict[str, Fact] = {"card": cell.card, "row": cell.row, "column": cell.column, "order": cell.order}
    if asked is None or not 0 < amount <= asked.amount:
        facts: dict[str, Fact] = {"medicine": batch.medicine, "amount": amount, "still": asked.amount if asked else Fraction(0)}
        yield Finding("supply.cell-full", Severity.STOP, where, facts)
    elif asked.day > batch.expiry:
        facts = {"medicine": batch.medicine, "lot": batch.lot, "day": asked.day, "limit": batch.expiry}
        yield Finding("checking.after-expiry", Severity.STOP, where, facts)
    elif asked.beyond_use > batch.expiry:
        facts = {"medicine": batch.medicine, "lot": batch.lot, "limit": batch.expiry}
        yield Finding("checking.expiry-before-beyond-use", Severity.STOP, where, facts)


def placing_movements(cells: Mapping[Cell, Fraction], batch: Batch) -> tuple[Movement, ...]:
    """One movement a card, and one for the part of a unit that is left over: nothing of a broken unit goes back into the bottle."""
    by_card: dict[CardNumber, Fraction] = defaultdict(Fraction)
    for cell, amount in cells.items():
        by_card[cell.card] += amount
    placed = [Movement(MovementKind.PLACED, batch.medicine, batch.lot, amount, card) for card, amount in sorted(by_card.items())]
    leftover = draw_whole_units(cells.values()).leftover
    return (*placed, *([Movement(MovementKind.SPOILED, batch.medicine, batch.lot, leftover)] if leftover else []))


def _about(batch: Batch, code: str, **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where={"medicine": batch.medicine, "lot": batch.lot}, facts=facts)
