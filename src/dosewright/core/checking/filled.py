"""A card as the plan wants it beside the card as it was filled: what every check of a card looks at."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from dosewright.core.packing.plan_values import Card
from dosewright.core.supply.placement import Placed
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, SlotName

__all__ = ["FilledCard", "FilledCavity", "lay_out"]


@dataclass(frozen=True, slots=True)
class FilledCavity:
    """`wanted` is what the plan puts here, by order; `placements` what lies here now."""

    card: CardNumber
    row: int
    column: int
    day: date
    slot: SlotName
    wanted: dict[OrderId, tuple[MedicineCode, Fraction]]
    placements: tuple[Placed, ...]

    @property
    def address(self) -> dict[str, Fact]:
        """Where a finding points."""
        return {"card": self.card, "row": self.row, "column": self.column, "date": self.day, "slot": self.slot}

    def placed(self, order: OrderId) -> Fraction:
        """How much lies here of one order."""
        amounts = [units.amount for units in self.placements if units.cell.order == order]
        return sum(amounts[1:], amounts[0]) if amounts else Fraction(0)

    @property
    def asked(self) -> Fraction:
        """How much the plan puts here in all."""
        return sum((amount for _, amount in self.wanted.values()), Fraction(0))


@dataclass(frozen=True, slots=True)
class FilledCard:
    """Cavities in order of row, then column. `strays` lie where the plan has no cavity."""

    number: CardNumber
    beyond_use: date
    cavities: tuple[FilledCavity, ...]
    strays: tuple[Placed, ...] = ()


def lay_out(card: Card, placed: Iterable[Placed]) -> FilledCard:
    """The card with everything that was placed into it laid into its cavities."""
    by_cavity: dict[tuple[int, int], list[Placed]] = defaultdict(list)
    for units in placed:
        by_cavity[units.cell.row, units.cell.column].append(units)
    cavities = tuple(
        FilledCavity(
            card=card.number,
            row=cavity.row,
            column=cavity.column,
            day=cavity.day,
            slot=cavity.slot,
            wanted={content.order: (content.medicine, content.quantity.count) for content in cavity.contents},
            placements=tuple(by_cavity.pop((cavity.row, cavity.column), ())),
        )
        for cavity in card.cavities
    )
    return FilledCard(card.number, card.beyond_use, cavities, tuple(units for left in by_cavity.values() for units in left))
