"""Two-piece hard capsules by size number: locked length and outer diameter in millimetres, as defaults that a measurement overrides.

Source: "Standard sizes of two-piece capsules", a study note of a manufacturer's table (retrieved). Tables differ by 0.2 to 0.5 mm.
"""

from collections.abc import Mapping
from fractions import Fraction

from dosewright.core.medicines.medicine import Size

__all__ = ["CAPSULE_SIZES", "capsule_size"]


def _size(length: str, diameter: str) -> Size:
    return Size(Fraction(length), Fraction(diameter), Fraction(diameter))


CAPSULE_SIZES: Mapping[str, Size] = {
    "000": _size("25.9", "9.96"),
    "00": _size("23.5", "8.55"),
    "0": _size("21.4", "7.66"),
    "0el": _size("23.2", "7.66"),
    "1": _size("19.3", "6.93"),
    "2": _size("17.8", "6.37"),
    "3": _size("15.8", "5.85"),
    "4": _size("14.4", "5.33"),
    "5": _size("11.4", "4.91"),
}


def capsule_size(name: str) -> Size:
    """The size of that number: "00", "3". Raises KeyError."""
    return CAPSULE_SIZES[name]
