"""Putting a card right, deed by deed: what is recorded when it is decided, what still has to leave it and to go in, where what leaves goes.

Comes in: a task, the card's state and plan. Goes out: deeds with their facts; units per cell; findings. Whatever leaves a card that is put
right is waste, wherever the card was (R10).
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction

from dosewright.core.checking.filled import FilledCard
from dosewright.core.custody.cells import format_cell_list, format_spots
from dosewright.core.custody.event import Deed
from dosewright.core.custody.follow import FOLLOWS
from dosewright.core.custody.stage import LEFT_THE_PHARMACY
from dosewright.core.custody.state import CardState
from dosewright.core.packing.plan_values import Card, Content, PackedCavity
from dosewright.core.paper.work_list import WASTE_CODE
from dosewright.core.rework.choices import REPLACED
from dosewright.core.rework.difference import CardDifference
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.situation import Cell as Spot
from dosewright.core.rework.tasks import CardTask, kept_units, tasks_of
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, Gtin, Lot, MedicineCode

__all__ = ["WASTE", "check_destination", "deeds_of_past", "deeds_of_task", "others_stay", "renewed", "to_take_out"]

WASTE = WASTE_CODE  # what stands in the code on every work list, and on the waste container
_WASTES = "WASTE-"  # a pharmacy may have several containers

_Deeds = Iterator[tuple[Deed, dict[str, Fact]]]


def deeds_of_task(task: CardTask, state: CardState, reason: str, change: int) -> _Deeds:
    """What is recorded about the card when the change is decided, in order."""
    if task.deed == "kept" and not (state.out_of_date or kept_units(task)):
        return
    said: dict[str, Fact] = {"choice": task.deed, "reason": reason, "change": change}
    if task.deed == "recall" and task.first:
        said |= {"back before": f"{task.first[0]} {task.first[1]:%H:%M}"}
    if task.deed in {"kept", "header"}:
        said |= _belongs(task)
    if task.deed == "header":
        said |= {"relabel": True}
    yield Deed.DECIDED, said
    if task.deed == "open":
        yield Deed.REWORKED, {"change": change, "opened": format_spots(task.opened), **_belongs(task)}
    if task.deed in REPLACED and state.stage in FOLLOWS[Deed.WITHDRAWN]:
        yield Deed.WITHDRAWN, {"reason": reason, "change": change}


def deeds_of_past(card: Card, state: CardState, today: date, reason: str, change: int) -> _Deeds:
    """What is recorded of a card that is out and whose days are all past: nothing in it is due, so that it stays as it is and keeps no
    change from being done. One that is still here is the pharmacy's to withdraw; one of as-needed medicines has no days."""
    if state.out_of_date and state.stage in LEFT_THE_PHARMACY and card.last < today and not card.as_needed:
        yield Deed.DECIDED, {"choice": "kept", "reason": reason, "change": change}


def others_stay(differences: Iterable[CardDifference], cards: Iterable[tuple[Card, CardState]], but: CardNumber, at: Moment) -> bool:
    """Whether every card but one is to hold what its plan says: then that one may be put right alone. What waits, or is called back and
    will be judged when it is here, counts for nothing."""
    plans = {card.number: card for card, state in cards if state.decision not in {"wait", "recall"}}
    return all(
        _amounts(one.held.items()) == _amounts(((c.row, c.column), c.contents) for c in plans[one.card.number].cavities if _from(c, at))
        for one in differences
        if one.card.number != but and one.card.number in plans
    )


def _from(cavity: PackedCavity, at: Moment) -> bool:
    return Moment(cavity.day, cavity.time) >= at


def _amounts(held: Iterable[tuple[Spot, tuple[Content, ...]]]) -> dict[tuple[Spot, MedicineCode], Fraction]:
    found: dict[tuple[Spot, MedicineCode], Fraction] = {}
    for spot, content in ((spot, content) for spot, contents in held for content in contents):
        found[spot, content.medicine] = found.get((spot, content.medicine), Fraction(0)) + content.quantity.count
    return found


def renewed(layout: PersonLayout, states: Mapping[CardNumber, CardState]) -> tuple[CardTask, ...]:
    """Cards that hold exactly what is asked, for orders that others have taken the place of since: a prescription renewed word for word.
    Nothing is done to them; what lies there belongs to the order in force. One that waits keeps what it was decided with."""
    alone = tasks_of(replace(layout, chosen=(), laid=layout.laid))
    changed = {one.card.number for one in layout.differences if one.changes}
    return tuple(
        task
        for task in alone
        if task.card not in changed and kept_units(task) and states[task.card].decision != "wait" and not states[task.card].out_of_date
    )


def _belongs(task: CardTask) -> dict[str, Fact]:
    """What stays in the card for another order than before."""
    kept = kept_units(task)
    if not kept:
        return {}
    was = ((Cell(task.card, one.row, one.column, one.was), one.content.quantity.count) for one in kept)
    now = ((Cell(task.card, one.row, one.column, one.now), one.content.quantity.count) for one in kept)
    return {"from": format_cell_list(was), "into": format_cell_list(now)}


def to_take_out(card: FilledCard, state: CardState) -> dict[tuple[MedicineCode, Lot], dict[Cell, Fraction]]:
    """What lies in the card and is not to be there: by medicine and lot, cell by cell, by what lies there now."""
    wanted = {
        Cell(card.number, cavity.row, cavity.column, order): (medicine, amount)
        for cavity in card.cavities
        for order, (medicine, amount) in cavity.wanted.items()
    }
    found: dict[tuple[MedicineCode, Lot], dict[Cell, Fraction]] = {}
    for cell, units in sorted(_by_cell(state).items()):
        medicine, amount = wanted.get(cell, (None, Fraction(0)))
        for one in reversed(units):
            keep = min(one.amount, amount) if one.medicine == medicine else Fraction(0)
            amount -= keep
            if one.amount > keep:
                cells = found.setdefault((one.medicine, one.lot), {})
                cells[cell] = cells.get(cell, Fraction(0)) + one.amount - keep
    return dict(sorted(found.items()))


def _by_cell(state: CardState) -> Mapping[Cell, list[Placed]]:
    cells: dict[Cell, list[Placed]] = {}
    for units in state.placed:
        cells.setdefault(units.cell, []).append(units)
    return cells


def check_destination(scanned: str, gtin: Gtin | None, reason: str) -> tuple[Finding, ...]:
    """What is taken out goes to waste: the container's own code is scanned, or a reason stands on record. A bottle is never the place
    (R10)."""
    if gtin is not None:
        return (Finding("change.bottle-is-no-waste", Severity.STOP, facts={"gtin": gtin}),)
    if "".join(scanned.split()).upper().startswith(_WASTES) or reason.strip():
        return ()
    return (Finding("change.no-destination", Severity.STOP),)
