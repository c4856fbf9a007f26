"""How much: exact amounts of one unit, and their one written form.

Comes in: counts as `Fraction` or text. Goes out: `Quantity` values and exact text ("1", "0.5", "1/3"). Holds R3: no float ever.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import NewType

__all__ = ["Quantity", "Unit", "format_amount", "parse_amount"]

Unit = NewType("Unit", str)  # singular, lower case: "tablet", "capsule", "mg", "mL"; "" where the order names none

_DECIMAL = re.compile(r"\d{1,12}(\.\d{1,12})?")
_RATIO = re.compile(r"(\d{1,12})/([1-9]\d{0,11})")


@dataclass(frozen=True, slots=True)
class Quantity:
    """How much of one medicine: `Quantity(Fraction(1, 2), Unit("tablet"))`. Raises TypeError for a float, ValueError below zero."""

    count: Fraction
    unit: Unit

    def __post_init__(self) -> None:
        if not isinstance(self.count, Fraction):
            raise TypeError(f"count must be a Fraction, not {self.count!r}")
        if self.count.numerator < 0:  # as a fraction is compared, at a tenth of the time
            raise ValueError(f"count must not be below zero: {self.count}")

    def __hash__(self) -> int:
        """By the two whole numbers: a fraction's own hash takes a modular power, and amounts are looked up many times."""
        return hash((self.count.as_integer_ratio(), self.unit))

    def __add__(self, other: "Quantity") -> "Quantity":
        if other.unit != self.unit:
            raise ValueError(f"cannot add {other.unit!r} to {self.unit!r}")
        return Quantity(self.count + other.count, self.unit)

    def times(self, factor: Fraction | int) -> "Quantity":
        """The same unit, `factor` times as much."""
        return Quantity(self.count * factor, self.unit)


def format_amount(count: Fraction) -> str:
    """Exact decimal text without trailing zeros where one exists ("0.5"), else a ratio ("1/3"). Source: contract for JSON files."""
    return _written(*count.as_integer_ratio())


@lru_cache(maxsize=65536)
def _written(numerator: int, denominator: int) -> str:
    twos = fives = 0
    rest = denominator
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    if rest != 1:
        return f"{numerator}/{denominator}"
    places = max(twos, fives)
    digits = str(abs(numerator) * 10**places // denominator).rjust(places + 1, "0")
    sign = "-" if numerator < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def parse_amount(text: str) -> Fraction:
    """The amount that `format_amount` wrote. Raises ValueError for anything else: signs, exponents, blanks, floats' spellings."""
    if _DECIMAL.fullmatch(text):
        return Fraction(text)
    if found := _RATIO.fullmatch(text):
        return Fraction(int(found[1]), int(found[2]))
    raise ValueError(f"not an amount: {text!r}")
