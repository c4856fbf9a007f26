"""A card as rework judges it: where it is by its events, and what lies in it now, never what its plan says where units were laid in.

Comes in: the planned card, its state, whose it is, the moment. Goes out: `OpenCard`. A card that is not yet filled for the first time
counts as its plan: nothing else will ever lie in it. Of one that is out, whatever was due before the moment counts as used.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from dosewright.core.custody.stage import LEFT_THE_PHARMACY, Stage
from dosewright.core.custody.state import CardState
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, Content, PackedCavity
from dosewright.core.rework.situation import OpenCard, Place
from dosewright.core.supply.placement import Placed
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import MedicineCode, OrderId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["as_it_lies", "as_open_card", "is_filled", "place_of"]

_NOT_FILLED = frozenset({Stage.PLANNED, Stage.PRINTED, Stage.FILLING})
_PLACES: dict[Stage, Place] = {
    Stage.SEALED: Place.SHELF,
    Stage.RELEASED: Place.SHELF,
    Stage.HANDED_OVER: Place.DELIVERY,
}


def place_of(state: CardState, person: Person) -> Place:
    """Where the card is."""
    if state.missing:
        return Place.MISSING
    if state.stage in {Stage.RECEIVED, Stage.IN_USE}:
        return Place.HOME if person.home else Place.PERSON
    return _PLACES.get(state.stage, Place.BENCH)


def is_filled(state: CardState) -> bool:
    """Whether what lies in the card is what counts, not what its plan says."""
    return state.stage not in _NOT_FILLED


def as_open_card(card: Card, state: CardState, person: Person, now: Moment, medicines: Mapping[MedicineCode, Medicine]) -> OpenCard:
    """The card for rework."""
    held = as_it_lies(card, state.placed, medicines) if is_filled(state) or state.disturbed else card
    gone = {(c.row, c.column) for c in card.cavities} - {(c.row, c.column) for c in held.cavities}
    past = {(c.row, c.column) for c in held.cavities if Moment(c.day, c.time) < now} if state.stage in LEFT_THE_PHARMACY else set()
    if state.stage in LEFT_THE_PHARMACY and gone:  # known to be given: they were there, and count as taken
        held = replace(held, cavities=tuple(sorted((*held.cavities, *(c for c in card.cavities if (c.row, c.column) in gone)), key=_spot)))
        past |= gone
    return OpenCard(held, person.id, place_of(state, person), frozenset(past))


def _spot(cavity: PackedCavity) -> tuple[int, int]:
    return cavity.row, cavity.column


def as_it_lies(card: Card, placed: Iterable[Placed], medicines: Mapping[MedicineCode, Medicine]) -> Card:
    """The card with what was laid into it, in place of what was planned; empty cavities are left out, and so are units of nowhere."""
    held: dict[tuple[int, int], dict[tuple[MedicineCode, OrderId], Fraction]] = {}
    for units in placed:
        cell = held.setdefault((units.cell.row, units.cell.column), {})
        key = (units.medicine, units.cell.order)
        cell[key] = cell.get(key, Fraction(0)) + units.amount
    known = {_spot(cavity): cavity for cavity in card.cavities}
    columns = {column.column: column for column in card.columns}
    cavities = []
    for spot, contents in sorted(held.items()):
        made = _contents(contents, known.get(spot), medicines)
        if spot in known:
            cavities.append(replace(known[spot], contents=made))
        elif spot[1] in columns:
            column = columns[spot[1]]
            day = column.first + timedelta(days=spot[0] - 1)
            cavities.append(PackedCavity(*spot, day, column.slot, column.time, made, Fraction(0)))
    return replace(card, cavities=tuple(cavities))


def _contents(
    held: Mapping[tuple[MedicineCode, OrderId], Fraction], planned: PackedCavity | None, medicines: Mapping[MedicineCode, Medicine]
) -> tuple[Content, ...]:
    """In the order of a first plan's labels; the very contents of the plan where nothing differs."""
    made = [Content(order, code, Quantity(amount, _unit(code, medicines))) for (code, order), amount in held.items()]
    ordered = tuple(sorted(made, key=lambda c: (medicines[c.medicine].label if c.medicine in medicines else "", c.medicine, c.order)))
    return planned.contents if planned and frozenset(planned.contents) == frozenset(ordered) else ordered


def _unit(code: MedicineCode, medicines: Mapping[MedicineCode, Medicine]) -> Unit:
    return medicines[code].unit if code in medicines else Unit("unit")
