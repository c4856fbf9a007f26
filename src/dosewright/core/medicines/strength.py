"""Strengths as written → exact values that can be compared: "0.5 g" is "500 mg", "5 mg/5 mL" is "1 mg per mL".

Comes in: the strength of a product, or any text that names strengths. Goes out: `Strength` values. Units of mass and of activity are never
turned into each other. Numbers that the safe-text rules forbid (".5 mg", "5.0 mg") have their plain value here; who prints them asks there.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["Strength", "find_strengths", "parse_unit_strength", "unit_of_measure"]

_MASS: dict[str, tuple[Unit, Fraction]] = {
    word: (Unit("mg"), Fraction(factor))
    for words, factor in (
        ("kg", "1000000"),
        ("g gram grams", "1000"),
        ("mg milligram milligrams", "1"),
        ("microgram micrograms mcg ug µg μg", "1/1000"),
        ("nanogram nanograms ng", "1/1000000"),
    )
    for word in words.split()
}
_OTHER: dict[str, tuple[Unit, Fraction]] = {
    word: (Unit(unit), Fraction(factor))
    for unit, factor, words in (
        ("unit", "1", "unit|units|international unit|international units|iu|u"),
        ("unit", "1000000", "mega-unit|mega-units|million units"),
        ("mmol", "1", "mmol"),
        ("%", "1", "%"),
    )
    for word in words.split("|")
}
_BASIS: dict[str, tuple[Unit, Fraction]] = {
    word: (Unit(unit), Fraction(factor))
    for unit, factor, words in (
        ("mL", "1", "ml"),
        ("mL", "1000", "l litre liter"),
        ("hour", "1", "h hr hour hours"),
        ("day", "1", "day"),
        ("dose", "1", "dose actuation puff spray"),
        ("mg", "1000", "g"),
        ("mg", "1", "mg"),
        ("each", "1", "tablet capsule patch sachet each"),
    )
    for word in words.split()
}
_NUMBER = r"(?:\d{1,3}(?:,\d{3})+|\d{1,9})(?:\.\d{1,9})?|\.\d{1,9}"
_UNIT = "|".join(sorted((re.escape(word) for word in (*_MASS, *_OTHER)), key=len, reverse=True))
_MASS_BASIS = ("mg", "g")  # "5 mg/g" is a basis, "50 mg/12.5 mg" is a second strength
_SIZED = "|".join(sorted((word for word in _BASIS if word not in _MASS_BASIS), key=len, reverse=True))
_PER = rf"(?:(?P<size>{_NUMBER})\s?)?(?P<basis>{_SIZED})|(?P<mass>{'|'.join(_MASS_BASIS)})"
_ONE = re.compile(
    rf"(?<![\w.,])(?P<number>{_NUMBER})[\s-]?(?P<unit>{_UNIT})(?![\w%])(?:\s?(?:/|\bper\b)\s?(?:{_PER})(?!\w))?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, order=True)
class Strength:
    """So much substance (mg, unit, mmol, %), in each unit or, where `per` names one, in one mL, hour, day, dose or mg."""

    count: Fraction
    unit: str
    per: str = ""


def find_strengths(text: str) -> tuple[Strength, ...]:
    """Every strength that the text names, in order."""
    return tuple(_strengths(text))


def parse_unit_strength(text: str) -> Quantity | None:
    """What one unit holds where the text is one single strength: "62.5 micrograms" → 62.5 microgram. Else None."""
    found = _ONE.fullmatch(text.strip())
    if found is None or found["basis"] or found["mass"]:
        return None
    return Quantity(_number(found["number"]), _singular(found["unit"]))


def unit_of_measure(word: str) -> tuple[Unit, Fraction] | None:
    """A unit of mass, activity or amount as its base unit and how many of that it is: "g" → (mg, 1000). None for any other word."""
    return _MASS.get(word.lower()) or _OTHER.get(word.lower())


def _strengths(text: str) -> Iterator[Strength]:
    for found in _ONE.finditer(text):
        measured = unit_of_measure(found["unit"])
        if measured is not None:
            unit, factor = measured
            count = _number(found["number"]) * factor
            yield _per(count, unit, found["size"], found["basis"] or found["mass"])


def _per(count: Fraction, unit: Unit, size: str | None, basis: str | None) -> Strength:
    if basis is None:
        return Strength(count, unit)
    per, factor = _BASIS[basis.lower()]
    return Strength(count / (_number(size or "1") * factor), unit, "" if per == "each" else per)


def _number(digits: str) -> Fraction:
    plain = digits.replace(",", "")
    return Fraction(f"0{plain}" if plain.startswith(".") else plain)


def _singular(word: str) -> Unit:
    plain = word.lower()
    if plain in ("mcg", "ug", "µg", "μg"):
        return Unit("microgram")
    if plain in ("iu", "u"):
        return Unit("unit")
    return Unit(plain.removesuffix("s"))
