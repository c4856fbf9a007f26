"""Amounts as substance: so many units of a product, or so many mg, as one exact number that can be compared.

A product with a single known strength is counted in that strength's base unit (mg, unit, …), any other in its own units. What cannot be
made of quarters of the product has no worth: nothing is rounded.
"""

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from dosewright.core.medicines.amounts import MOST_UNITS, countable_words
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.strength import unit_of_measure
from dosewright.core.units.quantity import Quantity

__all__ = ["add_all", "worth"]


@lru_cache(maxsize=65536)
def worth(quantity: Quantity, medicine: Medicine) -> Fraction | None:
    """The quantity's worth; None where it is not in this product's terms, or cannot be taken from whole, half or quarter units."""
    of_one = _of_one_unit(medicine)
    unit = quantity.unit.strip().lower()
    if unit and (unit in countable_words(medicine.unit) or unit.removesuffix("s") in countable_words(medicine.unit)):
        return _taken(quantity.count, 4, of_one)
    measured = unit_of_measure(unit)
    held = unit_of_measure(medicine.strength_amount.unit) if medicine.strength_amount else None
    if measured is None or held is None or measured[0] != held[0] or not of_one:
        return None
    return _taken(quantity.count * measured[1] / of_one, 2, of_one)


def _taken(units: Fraction, finest: int, of_one: Fraction) -> Fraction | None:
    """The worth of so many units, where they are parts that can be broken off and not an absurd number of them."""
    return units * of_one if (units * finest).denominator == 1 and units <= MOST_UNITS else None


def add_all(amounts: Sequence[Fraction | None]) -> Fraction | None:
    """The sum; None where any part of it cannot be told."""
    if len(amounts) == 1:
        return amounts[0]
    told = [amount for amount in amounts if amount is not None]
    return sum(told, Fraction(0)) if len(told) == len(amounts) else None


def _of_one_unit(medicine: Medicine) -> Fraction:
    strength = medicine.strength_amount
    measured = unit_of_measure(strength.unit) if strength else None
    return strength.count * measured[1] if strength and measured and strength.count else Fraction(1)
