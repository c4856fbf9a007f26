"""How much room a unit takes, by other formulas than the planner's and with a nearer pi, exact and never too small."""

from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache
from math import lcm

from dosewright.core.medicines.medicine import Medicine, Shape
from dosewright.core.medicines.volume import outline_and_size

__all__ = ["cubic_millimetres", "pieces", "room_of"]

_PI = Fraction(31415926535898, 10**13)  # above pi = 3.14159265358979…


@lru_cache(maxsize=16384)
def cubic_millimetres(medicine: Medicine) -> Fraction:
    """The volume of one unit in cubic millimetres."""
    shape, size = outline_and_size(medicine)
    long, wide, high = size.length, size.width, size.thickness
    match shape:
        case Shape.ROUND:
            return _PI * (long / 2) ** 2 * high
        case Shape.BICONVEX:
            return _PI * (long / 2) * (wide / 2) * high - _hollows(medicine)
        case Shape.CAPLET:
            return high * (long * wide - wide * wide * (1 - _PI / 4))
        case Shape.OVAL:
            return Fraction(4, 3) * _PI * (long / 2) * (wide / 2) * (high / 2)
        case Shape.CAPSULE:
            radius, whole = sorted((max(wide, high), long))[0] / 2, max(long, wide, high)
            return _PI * radius**2 * (whole - 2 * radius) + Fraction(4, 3) * _PI * radius**3
    return long * wide * high


def _hollows(medicine: Medicine) -> Fraction:
    """What a measured dome leaves free of the cylinder around it: two cups of cylinder less two spherical caps."""
    _, size = outline_and_size(medicine)
    if size.cup is None or size.length != size.width:
        return Fraction(0)
    radius = size.length / 2
    return 2 * (_PI * radius**2 * size.cup - _PI * size.cup * (3 * radius**2 + size.cup**2) / 6)


def pieces(count: Fraction) -> int:
    """Whole units, and one for each half and quarter that is broken off."""
    whole, rest = divmod(count.numerator, count.denominator)
    return whole + (rest * 4 // count.denominator).bit_count()


def room_of(parts: Iterable[tuple[Medicine, Fraction]]) -> Fraction:
    """What so many units of each take together, in cubic millimetres. Added up over one denominator: fractions one by one are slow."""
    volumes = ((cubic_millimetres(medicine), count) for medicine, count in parts)
    each = [(volume.numerator * count.numerator, volume.denominator * count.denominator) for volume, count in volumes]
    common = lcm(*[below for _, below in each])
    return Fraction(sum([above * (common // below) for above, below in each]), common)
