"""FHIR R4 `Ratio` of an ingredient → `Strength`. Comes in: numerator and denominator quantities. Goes out: an exact strength, or None.

The code says the unit, else the unit's own word. None where neither is known, where both are and disagree, where a comparator makes it
no exact amount, or where a part is missing.
Source: HL7 FHIR R4 (4.0.1), Medication.ingredient.strength, Quantity; UCUM case sensitive codes.
"""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from dosewright.core.medicines.strength import Strength, unit_of_measure

__all__ = ["parse_ratio"]

_UCUM = {"[iU]": "iu", "[IU]": "iu", "U": "u", "kg": "kg", "g": "g", "mg": "mg", "ug": "ug", "ng": "ng", "mmol": "mmol", "%": "%"}
_BASIS: dict[str, tuple[str, Fraction]] = {
    word: (basis, Fraction(factor))
    for basis, factor, words in (
        (
            "",
            "1",
            " 1 tablet tablets {tbl} {tablet} {tab} tab capsule capsules {capsule} {cap} cap patch patches {patch} sachet sachets each",
        ),
        ("mL", "1", "ml mL milliliter millilitre"),
        ("mL", "1000", "l L liter litre"),
        ("hour", "1", "h hr hour hours"),
        ("day", "1", "d day"),
        ("dose", "1", "dose doses {dose} actuation {actuation} puff puffs {puff} spray"),
        ("mg", "1", "mg"),
        ("mg", "1000", "g"),
    )
    for word in words.split(" ")
}


def parse_ratio(ratio: Mapping[str, Any]) -> Strength | None:
    """So much substance for each unit, mL, hour, dose or mg."""
    above, below = _measure(ratio.get("numerator")), _basis(ratio.get("denominator"))
    if above is None or below is None:
        return None
    (count, unit), (size, per) = above, below
    return Strength(count / size, unit, per)


def _measure(quantity: Mapping[str, Any] | None) -> tuple[Fraction, str] | None:
    value = _value(quantity)
    if value is None or quantity is None:
        return None
    unit, code = unit_of_measure(quantity.get("unit", "").strip()), unit_of_measure(_UCUM.get(quantity.get("code", ""), ""))
    found = code or unit
    if found is None or (unit and unit != found) or ("code" in quantity and code is None):
        return None
    return value * found[1], found[0]


def _basis(quantity: Mapping[str, Any] | None) -> tuple[Fraction, str] | None:
    """One unit where nothing else is said."""
    if quantity is None:
        return Fraction(1), ""
    value = _value(quantity)
    said = {_BASIS.get(word.strip()) for word in (quantity.get("unit"), quantity.get("code")) if word} or {_BASIS[""]}
    if value is None or len(said) != 1:
        return None
    found = said.pop()
    return (value * found[1], found[0]) if found else None


def _value(quantity: Mapping[str, Any] | None) -> Fraction | None:
    if quantity is None or "value" not in quantity or "comparator" in quantity:
        return None
    value = Fraction(quantity["value"])
    return value if value > 0 else None
