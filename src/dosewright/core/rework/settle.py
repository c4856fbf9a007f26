"""One dosing time put right: the cavities of it that are still unused and what is asked then come in, what leaves and goes in comes out.

Holds R2 and R3. What is there and is still asked for stays where it lies, whatever prescription it now belongs to. A unit is taken out
whole: one tablet that becomes half a tablet is one out and one half in.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from dosewright.core.packing.plan_values import Content
from dosewright.core.packing.request import PlanRequest
from dosewright.core.rework.asked import Claim
from dosewright.core.rework.pieces import pieces_of
from dosewright.core.rework.room import has_room
from dosewright.core.rework.situation import OpenCard
from dosewright.core.units.ids import MedicineCode, OrderId
from dosewright.core.units.quantity import Quantity

__all__ = ["Claims", "Homeless", "Settled", "settle"]

Claims = Mapping[MedicineCode, tuple[Claim, ...]]
Homeless = tuple[OrderId, MedicineCode, Fraction]
_Piece = tuple[OrderId, Fraction]


@dataclass(frozen=True, slots=True)
class Settled:
    """One cavity: `held` is what then lies in it, of which `add` goes in; `remove` leaves it."""

    held: tuple[Content, ...]
    remove: tuple[Content, ...]
    add: tuple[Content, ...]


@dataclass(slots=True)
class _Spot:
    """A cavity while it is being settled: `kept` stays or goes in, `out` leaves, `new` is the part of `kept` that goes in."""

    card: OpenCard
    contents: tuple[Content, ...]
    out: list[tuple[MedicineCode, _Piece]]
    kept: list[tuple[MedicineCode, _Piece]] = field(default_factory=list)
    new: list[tuple[MedicineCode, _Piece]] = field(default_factory=list)


def settle(
    here: Sequence[tuple[OpenCard, tuple[Content, ...]]], claims: Claims, day: date, request: PlanRequest
) -> tuple[tuple[Settled, ...], tuple[Homeless, ...]]:
    """For each cavity of the dosing time, with its card and what lies in it, what becomes of it; and what none of them can take.

    Pieces that are asked for stay; then room is found for the rest, in catalogue order; never in a card of another format than is filled
    now. `day` is the cavities' own: what goes in must keep until then.
    """
    spots = [_Spot(card, contents, _pieces(contents)) for card, contents in here]
    wanting: list[tuple[MedicineCode, _Piece]] = []
    for code in sorted(claims, key=lambda c: (request.medicines[c].label, c)):
        pieces = [(order, piece) for order, count in claims[code] for piece in pieces_of(count)]
        wanting += [(code, piece) for piece in _keep(code, pieces, spots)]
    homeless: dict[tuple[OrderId, MedicineCode], Fraction] = {}
    for code, (order, piece) in wanting:
        spot = next((spot for spot in _by_preference(spots, code) if _takes(spot, code, piece, day, request)), None)
        if spot is None:
            homeless[order, code] = homeless.get((order, code), Fraction(0)) + piece
        else:
            spot.kept.append((code, (order, piece)))
            spot.new.append((code, (order, piece)))
    return tuple(_settled(spot, request) for spot in spots), tuple((*key, count) for key, count in homeless.items())


def _pieces(contents: Iterable[Content]) -> list[tuple[MedicineCode, _Piece]]:
    return [(c.medicine, (c.order, piece)) for c in contents for piece in pieces_of(c.quantity.count)]


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


def _takes(spot: _Spot, code: MedicineCode, piece: Fraction, day: date, request: PlanRequest) -> bool:
    counts = _counts(spot.kept)
    counts[code] = counts.get(code, Fraction(0)) + piece
    return spot.card.form is None and has_room(counts, code, spot.card.card, day, request)


def _counts(pieces: Iterable[tuple[MedicineCode, _Piece]]) -> dict[MedicineCode, Fraction]:
    counts: dict[MedicineCode, Fraction] = {}
    for code, (_, piece) in pieces:
        counts[code] = counts.get(code, Fraction(0)) + piece
    return counts


def _settled(spot: _Spot, request: PlanRequest) -> Settled:
    held = _contents(spot.kept, request)
    return Settled(spot.contents if held == spot.contents else held, _contents(spot.out, request), _contents(spot.new, request))


def _contents(pieces: Iterable[tuple[MedicineCode, _Piece]], request: PlanRequest) -> tuple[Content, ...]:
    """The pieces added up by medicine and order, medicines as on a first plan's labels."""
    amounts: dict[tuple[MedicineCode, OrderId], Fraction] = {}
    for code, (order, piece) in pieces:
        amounts[code, order] = amounts.get((code, order), Fraction(0)) + piece
    made = [Content(order, code, Quantity(count, request.medicines[code].unit)) for (code, order), count in amounts.items()]
    return tuple(sorted(made, key=lambda c: (request.medicines[c.medicine].label, c.medicine, c.order)))
