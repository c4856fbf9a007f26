"""The measured geometry of a card and its label stock. Read from a TOML file that the pharmacy edits; all lengths in millimetres."""

from dataclasses import dataclass, field, replace
from fractions import Fraction

__all__ = ["Box", "CardFormat", "Cavity", "LabelSheet"]


@dataclass(frozen=True, slots=True)
class Cavity:
    """One compartment's inside in millimetres: length ≥ width, depth. `design_fill` is the share of its volume that may be filled.

    `max_units` counts pieces: whole units, and each half or quarter as one. `volume` is the whole inside in thousandths of a cubic
    millimetre, `usable_volume` what may be filled by design, both rounded down. Raises ValueError.
    """

    length: Fraction
    width: Fraction
    depth: Fraction
    design_fill: Fraction
    max_units: int
    volume: int = field(init=False, repr=False, compare=False, default=0)
    usable_volume: int = field(init=False, repr=False, compare=False, default=0)

    def __post_init__(self) -> None:
        if min(self.length, self.width, self.depth) <= 0 or self.width > self.length:
            raise ValueError("a cavity needs a length, a width not above it, and a depth, all above zero")
        if not 0 < self.design_fill <= Fraction(64, 100):
            raise ValueError("design fill must be above 0 and at most 0.64, where random packing ends")
        if self.max_units < 1:
            raise ValueError("a cavity must take at least one unit")
        inside = self.length * self.width * self.depth * 1000
        object.__setattr__(self, "volume", int(inside))
        object.__setattr__(self, "usable_volume", int(inside * self.design_fill))

    def __hash__(self) -> int:
        """By whole numbers, for an exact fraction is slow to hash."""
        return hash((self.volume, self.usable_volume, self.max_units))


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
    labels_across: int  # cavity labels side by side; a longer row goes on in the next line (pouches)

    def __post_init__(self) -> None:
        if self.labels_across < 1:
            raise ValueError("a label sheet needs at least one label across")


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

    def cavity_label(self, row: int, column: int) -> Box:
        """Where the label of that cavity stands on the sheet; row and column count from 1. Raises ValueError outside the card."""
        if not (1 <= row <= self.rows and 1 <= column <= self.columns):
            raise ValueError(f"no cavity at row {row}, column {column} of {self.name}")
        down, across = divmod((row - 1) * self.columns + column - 1, self.sheet.labels_across)
        first = self.sheet.first_cavity
        return replace(first, left=first.left + across * self.sheet.pitch_across, top=first.top + down * self.sheet.pitch_down)
