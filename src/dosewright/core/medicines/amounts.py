"""How many units of a product a dose is: the ordered quantity and the medicine in, an exact count of units or the reason there is none out.

Amounts of substance ("500 mg") become units only when the strength divides them exactly into halves; nothing is ever rounded.
"""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.strength import unit_of_measure
from dosewright.core.units.quantity import Quantity

__all__ = ["MOST_UNITS", "NotCountable", "countable_words", "units_of"]

# More units than this at one dosing time are taken for a slip, and nothing of the order is packed. Ours, no source: far above practice.
MOST_UNITS = 100

# What orders write for one countable unit. Source: UCUM annotations and HL7 v3 orderableDrugForm codes as FHIR R4 examples use them.
_SPELLINGS = {
    "tablet": ("tablet", "tab", "{tbl}", "{tablet}", "{tab}", "caplet"),
    "capsule": ("capsule", "cap", "{capsule}", "{cap}"),
}


@dataclass(frozen=True, slots=True)
class NotCountable:
    """Why a dose is no whole number of halves of this product. `code` is a finding's code."""

    code: str


def countable_words(unit: str) -> frozenset[str]:
    """Every lower-case word that means one such unit."""
    return frozenset(_SPELLINGS.get(_singular(unit), (_singular(unit),)))


@lru_cache(maxsize=65536)
def units_of(dose: Quantity, medicine: Medicine) -> Fraction | NotCountable:
    """The dose as a count of the medicine's own units: a multiple of a half, or of a quarter where the order itself counts units."""
    unit = _singular(dose.unit)
    if not unit:
        return NotCountable("amount.no-unit")
    if unit in countable_words(medicine.unit):
        return _breakable(dose.count, medicine, finest=4)
    return _by_strength(dose, medicine)


def _by_strength(dose: Quantity, medicine: Medicine) -> Fraction | NotCountable:
    if medicine.strength_amount is None or not medicine.strength_amount.count:
        return NotCountable("amount.unit-mismatch")
    ratio = _ratio(dose, medicine.strength_amount)
    return NotCountable("amount.unit-mismatch") if ratio is None else _breakable(ratio, medicine, finest=2)


def _ratio(dose: Quantity, strength: Quantity) -> Fraction | None:
    """How many times the strength the dose is, where both are the same unit, or units of mass with an exact factor between them."""
    asked, held = unit_of_measure(dose.unit), unit_of_measure(strength.unit)
    if asked and held and asked[0] == held[0]:
        return dose.count * asked[1] / (strength.count * held[1])
    return dose.count / strength.count if _singular(dose.unit) == _singular(strength.unit) else None


def _breakable(count: Fraction, medicine: Medicine, finest: int) -> Fraction | NotCountable:
    if count > MOST_UNITS:
        return NotCountable("amount.too-many")
    if finest % count.denominator:
        return NotCountable("amount.inexact")
    if count.denominator > 1 and ("halves-no" in medicine.flags or _singular(medicine.unit) == "capsule"):
        return NotCountable("amount.not-breakable")
    return count


def _singular(unit: str) -> str:
    word = unit.strip().lower()
    return word[:-1] if word.endswith("s") and len(word) > 2 else word
