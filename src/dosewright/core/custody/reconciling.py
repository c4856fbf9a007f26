"""A card that was called back is here: what is left in it, cavity by cavity, against what the record says was given.

Comes in: what was laid in, what was counted, which cavities the record has as given, when each was due, now. Goes out: findings. Whatever
does not agree is a `decide`: a pharmacist finds out why, and says so.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.packing.plan_values import PackedCavity
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber

__all__ = ["Returned", "reconcile"]


@dataclass(frozen=True, slots=True)
class Returned:
    """`counted`: what is left in each cell, 0 where it is empty. `recorded`: the cavities that the record of doses has as given."""

    counted: Mapping[Cell, Fraction]
    recorded: frozenset[tuple[int, int]]


def reconcile(
    card: CardNumber, cavities: Iterable[PackedCavity], placed: Iterable[Placed], back: Returned, now: Moment
) -> tuple[Finding, ...]:
    """Cavity by cavity, in order. Nothing where every cavity that was due is empty and recorded, and every other one is full."""
    held: dict[tuple[int, int], Fraction] = {}
    for units in placed:
        spot = (units.cell.row, units.cell.column)
        held[spot] = held.get(spot, Fraction(0)) + units.amount
    left: dict[tuple[int, int], Fraction] = {}
    for cell, amount in back.counted.items():
        left[cell.row, cell.column] = left.get((cell.row, cell.column), Fraction(0)) + amount
    where = {(cavity.row, cavity.column): cavity for cavity in cavities}
    return tuple(
        found
        for spot in sorted(held)
        if spot in where
        for found in _of_cavity(card, where[spot], (held[spot], left.get(spot, Fraction(0))), given=spot in back.recorded, now=now)
    )


def _of_cavity(
    card: CardNumber, cavity: PackedCavity, amounts: tuple[Fraction, Fraction], *, given: bool, now: Moment
) -> Iterator[Finding]:
    held, left = amounts
    where: dict[str, Fact] = {"card": card, "row": cavity.row, "column": cavity.column, "date": cavity.day, "slot": cavity.slot}
    due = Moment(cavity.day, cavity.time) < now
    if 0 < left < held:
        yield Finding("change.part-left", Severity.DECIDE, where, {"left": left, "held": held})
    elif left >= held and given:
        yield Finding("change.recorded-still-there", Severity.DECIDE, where)
    elif left >= held and due:
        yield Finding("change.not-given", Severity.NOTE, where)
    elif not left and not given:
        yield Finding("change.gone-not-recorded" if due else "change.gone-before-time", Severity.DECIDE, where)
    elif not left and not due:
        yield Finding("change.taken-early", Severity.NOTE, where)
