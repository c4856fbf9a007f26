"""The measured geometry of a card and its label stock. Read from a TOML file that the pharmacy edits; all lengths in millimetres."""

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["Box", "CardFormat", "Cavity", "LabelSheet"]


@dataclass(frozen=True, slots=True)
class Cavity:
    """One compartment's inside: length ≥ width, depth; `design_fill` is the share of its volume that may be filled (0 to 0.64).

    `max_units` counts whole units; halves count as one each.
    """

    length: Fraction
    width: Fraction
    depth: Fraction
    design_fill: Fraction
    max_units: int

    def __post_init__(self) -> None:
        if min(self.length, self.width, self.depth) <= 0 or self.width > self.length:
            raise ValueError("a cavity needs a length, a width not above it, and a depth, all above zero")
        if not 0 < self.design_fill <= Fraction(64, 100):
            raise ValueError("design fill must be above 0 and at most 0.64, where random packing ends")
        if self.max_units < 1:
            raise ValueError("a cavity must take at least one unit")


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on a sheet: left and top from the sheet's upper left corner, width and height, in millimetres."""

    left: Fraction
    top: Fraction
    width: Fraction
    height: Fraction


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """The label stock: the sheet, where the header stands, where the first cavity label stands and how far to the next."""

    width: Fraction
    height: Fraction
    header: Box
    first_cavity: Box
    pitch_across: Fraction
    pitch_down: Fraction


@dataclass(frozen=True, slots=True)
class CardFormat:
    """`rows` days down and `columns` dosing times across. A pouch roll is a card of one row (`roll` true), its pouches in order of time.

    `filled_from_back`: the fill map is drawn mirrored. `smallest_type`: points, the floor for cavity labels on this stock.
    """

    name: str
    title: str
    rows: int
    columns: int
    roll: bool
    filled_from_back: bool
    cavity: Cavity
    sheet: LabelSheet
    smallest_type: Fraction
