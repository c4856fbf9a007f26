"""How much room one unit takes: outline and size in, a whole number of thousandths of a cubic millimetre out, always rounded up.

Formulas: solid geometry of the five outlines. Where a measure is missing the formula that cannot be too small is used: a biconvex unit
without its cup depth counts as a flat one of its overall thickness, a unit of no known outline as its box.
"""

from fractions import Fraction
from functools import lru_cache
from math import ceil

from dosewright.core.medicines.medicine import Medicine, Shape, Size

__all__ = ["PI_ABOVE", "UNMEASURED", "outline_and_size", "piece_count", "unit_volume", "volume_of", "volume_of_one"]

# 355/113 is above pi by less than 2.7e-7, so that no volume made with it is too small.
PI_ABOVE = Fraction(355, 113)

# The largest capsule that older guidance on size lets a generic have (FDA, Size, shape and other physical attributes of generic tablets and
# capsules, 2015), size 00: locked length and outer diameter from a published table of two-piece capsules.
UNMEASURED = (Shape.CAPSULE, Size(Fraction("23.5"), Fraction("8.55"), Fraction("8.55")))


def unit_volume(shape: Shape | None, size: Size) -> int:
    """The volume of one unit in thousandths of a cubic millimetre, rounded up."""
    return ceil(_cubic_millimetres(shape, size) * 1000)


def _cubic_millimetres(shape: Shape | None, size: Size) -> Fraction:
    length, width, thick = size.length, size.width, size.thickness
    match shape:
        case Shape.ROUND:
            return PI_ABOVE * length * length * thick / 4
        case Shape.BICONVEX:
            return _biconvex(size)
        case Shape.CAPLET:
            return ((length - width) * width + PI_ABOVE * width * width / 4) * thick
        case Shape.OVAL:
            return PI_ABOVE * length * width * thick / 6
        case Shape.CAPSULE:
            return _spherocylinder(length, max(width, thick))
    return length * width * thick


def _biconvex(size: Size) -> Fraction:
    """Band and two spherical caps for a round unit; the elliptic cylinder, which is never smaller, for any other."""
    if size.cup is None or size.length != size.width:
        return PI_ABOVE * size.length * size.width * size.thickness / 4
    band, cup, radius = size.thickness - 2 * size.cup, size.cup, size.length / 2
    return PI_ABOVE * radius * radius * band + 2 * PI_ABOVE * cup * (3 * radius * radius + cup * cup) / 6


def _spherocylinder(length: Fraction, diameter: Fraction) -> Fraction:
    long, across = max(length, diameter), min(length, diameter)
    return PI_ABOVE * across * across * (long - across) / 4 + PI_ABOVE * across**3 / 6


def outline_and_size(medicine: Medicine) -> tuple[Shape | None, Size]:
    """What is known of the unit; for one never measured, the largest a single unit is expected to be (`UNMEASURED`)."""
    return (medicine.shape, medicine.size) if medicine.size else UNMEASURED


@lru_cache(maxsize=16384)
def volume_of_one(medicine: Medicine) -> int:
    """The room that one unit takes, measured or assumed, in thousandths of a cubic millimetre."""
    return unit_volume(*outline_and_size(medicine))


def volume_of(medicine: Medicine, count: Fraction) -> int:
    """The room that so many units take, a broken one rounded up to the next thousandth of a cubic millimetre."""
    return -(-volume_of_one(medicine) * count.numerator // count.denominator)


def piece_count(count: Fraction) -> int:
    """How many pieces lie in the cavity: whole units, and what is broken off as quarters and halves. 1.5 are two pieces, 0.75 are two."""
    return _pieces(*count.as_integer_ratio())


@lru_cache(maxsize=4096)
def _pieces(numerator: int, denominator: int) -> int:
    whole, rest = divmod(Fraction(numerator, denominator), 1)
    return whole + (0 if not rest else 1 if rest in (Fraction(1, 2), Fraction(1, 4)) else 2 if rest == Fraction(3, 4) else rest.numerator)
