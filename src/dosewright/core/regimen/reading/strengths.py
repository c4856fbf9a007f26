"""An amount in mg becomes units of the ordered product where that is exact, and a stated content is checked against it.

Comes in: an amount and the product ordered. Goes out: the amount to give. A content that contradicts the product, or that is no multiple
of half a unit, is a question. Without a product mg stay mg.
"""

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.quantity import Unit

__all__ = ["Converted", "Product", "in_units", "parse_product"]

_STRENGTH = re.compile(r"(\d{1,9}(?:[.,]\d{1,6})?)\s*(mg|milligrams?|mcg|µg|μg|micrograms?|g|grams?)")
_MICROGRAMS = {"mg": 1000, "microgram": 1, "g": 1_000_000}
_NAMES = {"milligram": "mg", "milligrams": "mg", "mcg": "microgram", "µg": "microgram", "μg": "microgram", "micrograms": "microgram"}
_NAMES |= {"gram": "g", "grams": "g"}
_SPLITTABLE = frozenset({"tablet", "caplet"})
_COUNTED = frozenset({"tablet", "caplet", "capsule", "pill", "lozenge", "sachet", "patch", "suppository", "pessary"})


@dataclass(frozen=True, slots=True)
class Product:
    """One unit of what was ordered holds `micrograms`."""

    form: Unit
    micrograms: Fraction


@dataclass(frozen=True, slots=True)
class Converted:
    """The amount to give, and what was done to get it."""

    amount: p.HowMuch
    assumed: tuple[Finding, ...] = ()


def parse_product(form: str, strength: str) -> Product | None:
    """ "tablet", "5 mg". None where either is missing or is not one single content."""
    found = _STRENGTH.fullmatch(strength.strip().casefold())
    unit = form.strip().casefold().split(",")[0].split(" ")[-1].removesuffix("s") if form.strip() else ""
    if not found or unit not in _COUNTED:
        return None
    micrograms = Fraction(found[1].replace(",", ".")) * _MICROGRAMS[_NAMES.get(found[2], found[2])]
    return Product(Unit(unit), micrograms) if micrograms else None


def in_units(amount: p.HowMuch, product: Product | None) -> Converted:
    """Raises Unclear where words and product disagree, or half units do not make it."""
    if amount.each is not None:
        amount = _checked(amount, product)
    if product is None or amount.unit not in _MICROGRAMS:
        return Converted(amount)
    factor = _MICROGRAMS[amount.unit] / product.micrograms
    low, high = amount.number.low * factor, amount.number.high * factor
    steps = 2 if product.form in _SPLITTABLE else 1
    if any((count * steps).denominator != 1 for count in (low, high)):
        raise Unclear("read.not-in-units", amount.span, mass=amount.number.low, unit=str(amount.unit))
    changed = replace(amount, number=p.Number(low, high), unit=product.form)
    return Converted(changed, (Finding("read.in-units", Severity.NOTE, facts={"mass": amount.number.low, "unit": str(amount.unit)}),))


def _checked(amount: p.HowMuch, product: Product | None) -> p.HowMuch:
    """ "2 tablets (40 mg)": in all, or in each; either may agree with the product, one must where a product is known."""
    assert amount.each is not None  # noqa: S101 — the caller looked
    mass, unit = amount.each
    if product is None or unit not in _MICROGRAMS:
        return amount
    stated = mass * _MICROGRAMS[unit]
    if stated not in (product.micrograms, product.micrograms * amount.number.low):
        raise Unclear("read.strength", amount.span, mass=mass, unit=str(unit))
    return amount
