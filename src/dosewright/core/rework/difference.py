"""What has to leave which cavity and what has to go in, exactly: open cards as they are come in, each cavity's `remove` and `add` go out.

Holds R2, R3 and R17. A card is compared with what the new orders ask, dosing time by dosing time and medicine by medicine: what is there
and is still asked for stays where it lies, whatever prescription it now belongs to. Cavities before the moment or already used are never
touched. A unit is taken out whole: one tablet that becomes half a tablet is one out and one half in.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from dosewright.core.packing.plan_values import CardColumn, Content
from dosewright.core.packing.request import PlanRequest
from dosewright.core.rework.asked import Asked, Claim, When
from dosewright.core.rework.pieces import pieces_of
from dosewright.core.rework.room import has_room
from dosewright.core.rework.situation import Cell, OpenCard
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId
from dosewright.core.units.quantity import Quantity

__all__ = ["CardDifference", "CavityChange", "Differences", "Unplaced", "compare"]


@dataclass(frozen=True, slots=True)
class CavityChange:
    """One cavity: units that must leave it and units that must go in, by order. At least one of the two holds something."""

    row: int
    column: int
    when: When
    slot: str
    remove: tuple[Content, ...]
    add: tuple[Content, ...]


@dataclass(frozen=True, slots=True)
class CardDifference:
    """One card: the cavities that change, and `held`, what every cavity from the moment on then holds (none: empty)."""

    card: OpenCard
    changes: tuple[CavityChange, ...]
    held: Mapping[Cell, tuple[Content, ...]]


@dataclass(frozen=True, slots=True)
class Unplaced:
    """So much of an order's medicine that goes into no cavity of the open cards at its dosing time."""

    when: When
    order: OrderId
    medicine: MedicineCode
    count: Fraction


@dataclass(frozen=True, slots=True)
class Differences:
    """Every open card of one person, in the order given, and what none of them can take."""

    cards: tuple[CardDifference, ...]
    unplaced: tuple[Unplaced, ...]


_Piece = tuple[OrderId, Fraction]


@dataclass(slots=True)
class _Spot:
    """A cavity while it is being compared: `kept` stays or goes in, `out` leaves, `new` is the part of `kept` that goes in."""

    card: OpenCard
    column: CardColumn
    row: int
    kept: list[tuple[MedicineCode, _Piece]]
    out: list[tuple[MedicineCode, _Piece]]
    new: list[tuple[MedicineCode, _Piece]]


def compare(cards: Sequence[OpenCard], asked: Asked, at: Moment, request: PlanRequest) -> Differences:
    """Compare one person's cards with what is asked. `request` gives medicines, card format and rules."""
    spots: dict[tuple[CardNumber, Cell], _Spot] = {}
    unplaced: list[Unplaced] = []
    for when in sorted(_moments(cards, asked, at)):
        here = [spot for card in cards for spot in _spots(card, when, request)]
        claims = _not_yet_given(asked.doses.get(when, {}), cards, when)
        unplaced += _settle(here, claims, when, request)
        spots |= {(spot.card.number, (spot.row, spot.column.column)): spot for spot in here}
    return Differences(tuple(_difference(card, spots, request) for card in cards), tuple(unplaced))


def _moments(cards: Iterable[OpenCard], asked: Asked, at: Moment) -> set[When]:
    return {(cavity.day, cavity.time) for card in cards for cavity in card.open_from(at)} | set(asked.doses)


def _spots(card: OpenCard, when: When, request: PlanRequest) -> Iterable[_Spot]:
    """The card's cavities of that dosing time that are still unused, with the pieces that lie in them."""
    held = {(cavity.row, cavity.column): cavity.contents for cavity in card.card.cavities}
    for column in card.card.columns:
        row = (when[0] - column.first).days + 1
        on_card = 1 <= row <= request.format.rows and card.card.first <= when[0] <= card.card.last
        if on_card and column.time == when[1] and (row, column.column) not in card.used:
            contents = held.get((row, column.column), ())
            pieces = [(c.medicine, (c.order, piece)) for c in contents for piece in pieces_of(c.quantity.count)]
            yield _Spot(card, column, row, [], pieces, [])


def _not_yet_given(
    claims: Mapping[MedicineCode, tuple[Claim, ...]], cards: Iterable[OpenCard], when: When
) -> Mapping[MedicineCode, tuple[Claim, ...]]:
    """What is asked at a dosing time less what was in its used cavities: a dose that was taken early is not packed again."""
    given: dict[MedicineCode, Fraction] = {}
    for cavity in (c for card in cards for c in card.card.cavities if (c.row, c.column) in card.used and (c.day, c.time) == when):
        for content in cavity.contents:
            given[content.medicine] = given.get(content.medicine, Fraction(0)) + content.quantity.count
    return {code: rest for code, found in claims.items() if (rest := _less(found, given.get(code, Fraction(0))))}


def _less(claims: Iterable[Claim], given: Fraction) -> tuple[Claim, ...]:
    rest: list[Claim] = []
    for order, count in claims:
        taken = min(count, given)
        given -= taken
        rest += [(order, count - taken)] if count > taken else []
    return tuple(rest)


_Claims = Mapping[MedicineCode, tuple[Claim, ...]]


def _settle(here: Sequence[_Spot], claims: _Claims, when: When, request: PlanRequest) -> Iterable[Unplaced]:
    """Leave what is still asked for, then find room for the rest, in catalogue order."""
    wanting: list[tuple[MedicineCode, _Piece]] = []
    for code in sorted(claims, key=lambda c: (request.medicines[c].label, c)):
        pieces = [(order, piece) for order, count in claims[code] for piece in pieces_of(count)]
        wanting += [(code, piece) for piece in _keep(code, pieces, here)]
    found: dict[tuple[OrderId, MedicineCode], Fraction] = {}
    for code, (order, piece) in wanting:
        spot = next((spot for spot in _by_preference(here, code) if _takes(spot, code, piece, request)), None)
        if spot is None:
            found[order, code] = found.get((order, code), Fraction(0)) + piece
        else:
            spot.kept.append((code, (order, piece)))
            spot.new.append((code, (order, piece)))
    return [Unplaced(when, order, code, count) for (order, code), count in found.items()]


def _keep(code: MedicineCode, pieces: Sequence[_Piece], here: Sequence[_Spot]) -> list[_Piece]:
    """Leave every piece that is asked for where it lies, the same order's first; what comes back is not there."""
    wanting = list(pieces)
    for same_order in (True, False):
        for order, piece in tuple(wanting):
            for spot in here:
                lying = next((p for c, p in spot.out if c == code and p[1] == piece and (p[0] == order or not same_order)), None)
                if lying is not None:
                    spot.out.remove((code, lying))
                    spot.kept.append((code, (order, piece)))
                    wanting.remove((order, piece))
                    break
    return wanting


def _by_preference(here: Sequence[_Spot], code: MedicineCode) -> list[_Spot]:
    """Where some of it stays, then where some of it was, then the others; a piece goes beside its like."""
    return sorted(here, key=lambda s: (all(c != code for c, _ in s.kept), all(c != code for c, _ in s.out)))


def _takes(spot: _Spot, code: MedicineCode, piece: Fraction, request: PlanRequest) -> bool:
    counts = _counts(spot.kept)
    counts[code] = counts.get(code, Fraction(0)) + piece
    return has_room(counts, code, spot.card.card, spot.column.first + timedelta(days=spot.row - 1), request)


def _counts(pieces: Iterable[tuple[MedicineCode, _Piece]]) -> dict[MedicineCode, Fraction]:
    counts: dict[MedicineCode, Fraction] = {}
    for code, (_, piece) in pieces:
        counts[code] = counts.get(code, Fraction(0)) + piece
    return counts


def _difference(card: OpenCard, spots: Mapping[tuple[CardNumber, Cell], _Spot], request: PlanRequest) -> CardDifference:
    mine = {cell: spot for (number, cell), spot in sorted(spots.items()) if number == card.number}
    changes = tuple(_change(cell, spot, request) for cell, spot in mine.items() if spot.out or spot.new)
    return CardDifference(card, changes, {cell: _contents(spot.kept, request) for cell, spot in mine.items()})


def _change(cell: Cell, spot: _Spot, request: PlanRequest) -> CavityChange:
    day = spot.column.first + timedelta(days=spot.row - 1)
    remove, add = _contents(spot.out, request), _contents(spot.new, request)
    return CavityChange(*cell, (day, spot.column.time), spot.column.slot, remove, add)


def _contents(pieces: Iterable[tuple[MedicineCode, _Piece]], request: PlanRequest) -> tuple[Content, ...]:
    """The pieces added up by medicine and order, medicines as on a first plan's labels."""
    amounts: dict[tuple[MedicineCode, OrderId], Fraction] = {}
    for code, (order, piece) in pieces:
        amounts[code, order] = amounts.get((code, order), Fraction(0)) + piece
    made = [Content(order, code, Quantity(count, request.medicines[code].unit)) for (code, order), count in amounts.items()]
    return tuple(sorted(made, key=lambda c: (request.medicines[c.medicine].label, c.medicine, c.order)))
