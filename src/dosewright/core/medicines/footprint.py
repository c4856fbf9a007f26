"""Whether a unit can lie in a cavity at all, whatever its volume: unit size and the cavity's inside in, yes or no out."""

from fractions import Fraction

from dosewright.core.medicines.medicine import Size

__all__ = ["fits_inside", "smallest_rectangle"]


def smallest_rectangle(unit: Size, depth: Fraction) -> tuple[Fraction, Fraction] | None:
    """The smallest rectangle of floor, long side first, that the unit needs in a cavity of that depth; None if it stands out of it anyhow.

    It may lie flat, on edge or stand upright: the higher it may stand, the less floor it needs, in both directions.
    """
    thin, middle, long = sorted((unit.length, unit.width, unit.thickness))
    standing = ((long, (middle, thin)), (middle, (long, thin)), (thin, (long, middle)))
    return next((floor for height, floor in standing if height <= depth), None)


def fits_inside(unit: Size, length: Fraction, width: Fraction, depth: Fraction) -> bool:
    """Whether the unit lies inside, its sides along the cavity's, never aslant. `length` ≥ `width`."""
    floor = smallest_rectangle(unit, depth)
    return floor is not None and floor[0] <= length and floor[1] <= width
