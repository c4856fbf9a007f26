"""Halves come out of whole units: how many whole ones to take from the bottle, and what is left over and must be accounted for."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

__all__ = ["Draw", "draw_whole_units"]


@dataclass(frozen=True, slots=True)
class Draw:
    """`whole` units leave the bottle, `placed` goes into cavities, `leftover` is the part unit that remains."""

    whole: int
    placed: Fraction

    @property
    def leftover(self) -> Fraction:
        """What is left of the last unit: 0 where everything was used."""
        return self.whole - self.placed


def draw_whole_units(amounts: Iterable[Fraction]) -> Draw:
    """The fewest whole units that give these amounts, parts of a unit being used one after another: 21 halves take 11 tablets.

    Source: check value CV-7.2 (halves are rounded up to whole source tablets); parts of one unit shared out is arithmetic.
    """
    placed = sum(amounts, Fraction(0))
    return Draw(ceil(placed), placed)
