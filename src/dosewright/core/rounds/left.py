"""What is left of a card: what went into it, less what was given, refused, left lying, lost or came back. Cell by cell, by lot."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["Parted", "check_counted_return", "check_uncounted", "part_return"]


@dataclass(frozen=True, slots=True)
class Parted:
    """A returned card's units: those that came back, and those that did not and so count as given out to the person."""

    returned: tuple[Placed, ...]
    given: tuple[Placed, ...]


def check_counted_return(placed: Iterable[Placed], counted: Mapping[Cell, Fraction]) -> tuple[Finding, ...]:
    """Find every cell where more came back than went in: units of nowhere must be explained before they are taken in (R11)."""
    held: dict[Cell, Fraction] = {}
    for units in placed:
        held[units.cell] = held.get(units.cell, Fraction(0)) + units.amount
    return tuple(
        Finding(
            "rounds.more-returned-than-held",
            Severity.STOP,
            {"card": cell.card, "row": cell.row, "column": cell.column, "order": cell.order},
            {"held": held.get(cell, Fraction(0)), "counted": amount},
        )
        for cell, amount in sorted(counted.items())
        if amount > held.get(cell, Fraction(0))
    )


def check_uncounted(
    placed: Iterable[Placed], counted: Mapping[Cell, Fraction], days: Mapping[Cell, date], today: date
) -> tuple[Finding, ...]:
    """Find every cell that nobody counted. A dose of a past day may be taken as given, with a note; one of today or later may not:
    it would be given in the account and nowhere else (R11). `days` says on which day each cell is due.
    """
    cells = sorted({units.cell for units in placed} - set(counted))
    return tuple(_uncounted(cell, days[cell], today) for cell in cells)


def _uncounted(cell: Cell, due: date, today: date) -> Finding:
    where: dict[str, Fact] = {"card": cell.card, "row": cell.row, "column": cell.column, "order": cell.order, "date": due}
    if due < today:
        return Finding("rounds.taken-as-given", Severity.NOTE, where)
    return Finding("rounds.not-counted", Severity.STOP, where)


def part_return(placed: Iterable[Placed], counted: Mapping[Cell, Fraction]) -> Parted:
    """Part what a card held by what was counted in it when it came back; a cell that is not counted is empty.

    Where a cell held two lots, the one laid in last is counted as returned first: nothing tells them apart, and each lot stays whole.
    """
    still = dict(counted)
    returned: list[Placed] = []
    given: list[Placed] = []
    for units in reversed(tuple(placed)):
        back = min(still.get(units.cell, Fraction(0)), units.amount)
        if back:
            still[units.cell] -= back
            returned.append(replace(units, amount=back))
        if units.amount > back:
            given.append(replace(units, amount=units.amount - back))
    return Parted(tuple(reversed(returned)), tuple(reversed(given)))
