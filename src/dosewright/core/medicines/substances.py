"""What substances a product holds, how much of each, and how much of one a day is the most: a medicine and the pharmacy's rules in.

A product of several substances is one whose name lists them ("amlodipine/valsartan"), or has a name of its own that a rule takes apart
("co-codamol"). Two names are one substance where one is the other with more words ("bisoprolol", "bisoprolol fumarate").
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from dosewright.core.medicines.amounts import units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import mentions, words_of
from dosewright.core.medicines.strength import find_strengths, unit_of_measure
from dosewright.core.units.quantity import Quantity

__all__ = ["Blend", "DailyMaximum", "Product", "milligrams_of", "product_of", "same_substance", "substances_of"]

Product = tuple[object, ...]

_BETWEEN = re.compile(r"\s*[/+,]\s*|\s+(?:and|with)\s+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Blend:
    """A generic name that stands for several substances, in the order in which strengths are written."""

    id: str
    name: str
    substances: tuple[str, ...]
    source: str
    dated: str
    evidence: str


@dataclass(frozen=True, slots=True)
class DailyMaximum:
    """No more than `milligrams` of any of the substances in a day, from everything that is taken, as-needed medicines at their most."""

    id: str
    names: tuple[str, ...]
    milligrams: Fraction
    reason: str
    source: str
    dated: str
    evidence: str

    def limits(self, substance: str) -> bool:
        """Whether the rule is about that substance."""
        return any(same_substance(substance, name) for name in self.names)


def substances_of(medicine: Medicine, blends: Iterable[Blend]) -> tuple[str, ...]:
    """The names of what is in it, in the order of its strengths."""
    blend = next((blend for blend in blends if mentions(medicine.name, blend.name)), None)
    return blend.substances if blend else tuple(part for part in _BETWEEN.split(medicine.name.strip()) if part)


@lru_cache(maxsize=16384)
def product_of(medicine: Medicine) -> Product:
    """The same for products of one name, strength and form, whatever their codes, makers and looks: what a person would take twice."""
    held = medicine.strength_amount
    measured = unit_of_measure(held.unit) if held else None
    strength = (measured[0], held.count * measured[1]) if held and measured else tuple(medicine.strength.casefold().split())
    return words_of(medicine.name), strength, medicine.form


@lru_cache(maxsize=65536)
def same_substance(one: str, other: str) -> bool:
    """Whether the words of one name begin with all the words of the other. A name without words is no substance."""
    first, second = sorted((words_of(one), words_of(other)), key=len)
    return bool(first) and second[: len(first)] == first


def milligrams_of(dose: Quantity, medicine: Medicine, nth: int, of: int) -> Fraction | None:
    """How much of the product's nth substance (from 0) of so many is in the dose; None where that cannot be said exactly."""
    measured = unit_of_measure(dose.unit)
    if measured and of == 1:
        return dose.count * measured[1] if measured[0] == "mg" else None
    strengths = find_strengths(medicine.strength)
    if len(strengths) != of or strengths[nth].unit != "mg":
        return None
    count = _count(dose, medicine, strengths[nth].per)
    return None if count is None else count * strengths[nth].count


def _count(dose: Quantity, medicine: Medicine, per: str) -> Fraction | None:
    """How many of what the strength is in: units of the product, or mL of a liquid."""
    if per == "mL":
        return dose.count if dose.unit.casefold() == "ml" else None
    counted = units_of(dose, medicine) if not per else None
    return counted if isinstance(counted, Fraction) else None
