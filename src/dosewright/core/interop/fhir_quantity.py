"""FHIR quantities, ranges and lengths of time ⇄ exact values, their units brought to one word each.

A comparator ("less than 2 tablets") is no amount and stops the reading. Unit and code that name different things are a question.
Source: HL7 FHIR R4 (4.0.1) Quantity, SimpleQuantity, Range, Duration, Ratio; value set units-of-time; UCUM for the codes.
"""

from fractions import Fraction

from dosewright.core.interop.fhir_element import Element
from dosewright.core.regimen.dosage import Maximum, Range, Span, TimeUnit
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["TIME_UNITS", "parse_maximum", "parse_quantity", "parse_range", "parse_span", "unit_word"]

# One word for each unit, singular, as the rest of the program spells it. Source: UCUM codes; common spellings, no source.
_WORDS = {
    "tablet": "tablet tablets tab tabs tab. {tbl} {tablet} {tab}",
    "capsule": "capsule capsules cap caps {capsule} {cap} {capsules}",
    "caplet": "caplet caplets {caplet}",
    "sachet": "sachet sachets {sachet}",
    "puff": "puff puffs {puff}",
    "drop": "drop drops [drp] {drop}",
    "patch": "patch patches {patch}",
    "suppository": "suppository suppositories {suppository}",
    "spoonful": "spoonful spoonfuls {spoonful}",
    "mL": "ml milliliter milliliters millilitre millilitres",
    "L": "l liter liters litre litres",
    "mg": "mg milligram milligrams",
    "g": "g gram grams",
    "microgram": "ug µg μg mcg microgram micrograms",
    "ng": "ng nanogram nanograms",
    "unit": "unit units {unit} [iu] iu [usp'u]",
    "mmol": "mmol millimole millimoles",
}
_UNIT_WORDS = {spelling: word for word, spellings in _WORDS.items() for spelling in spellings.split()}

# FHIR R4 units-of-time, and the words that published examples print beside the code.
TIME_UNITS = {
    "s": TimeUnit.SECOND,
    "min": TimeUnit.MINUTE,
    "h": TimeUnit.HOUR,
    "d": TimeUnit.DAY,
    "wk": TimeUnit.WEEK,
    "mo": TimeUnit.MONTH,
    "a": TimeUnit.YEAR,
}
_TIME_WORDS = {
    **TIME_UNITS,
    **{
        form: unit
        for word, unit in zip(("second", "minute", "hour", "day", "week", "month", "year"), TIME_UNITS.values(), strict=True)
        for form in (word, word + "s")
    },
    "hr": TimeUnit.HOUR,
    "hrs": TimeUnit.HOUR,
}


def unit_word(text: str) -> Unit:
    """The one word for a unit however it is spelt; a unit that is not listed stays as it was written."""
    return Unit(_UNIT_WORDS.get(text.strip().lower(), text.strip()))


def parse_quantity(element: Element) -> Quantity | None:
    """An amount with its unit ("" where none is named), or None with its findings."""
    value, unit, code = _parts(element)
    if value is None or value < 0:
        return None
    word = unit_word(unit or ("" if code == "1" else code))
    if unit and code and code != "1" and unit_word(code) != word and not _is_form_code(code):
        element.ask("fhir.unit-differs", unit=unit, value=code)
    return Quantity(value, word)


def parse_range(element: Element) -> Range | None:
    """From low to high; either may be missing, not both."""
    low, high = element.child("low"), element.child("high")
    found = Range(parse_quantity(low) if low else None, parse_quantity(high) if high else None)
    element.finish()
    return found


def parse_span(element: Element) -> Span | None:
    """A length of time: a number and one of the units of time."""
    value, unit, code = _parts(element)
    stated = {_TIME_WORDS.get(word.strip() if word in TIME_UNITS else word.strip().lower()) for word in (unit, code) if word}
    if value is None or value < 0:
        return None
    if len(stated) != 1 or None in stated:
        element.stop("fhir.no-unit-of-time", unit=unit, value=code)
        return None
    return Span(value, next(one for one in stated if one))


def parse_maximum(element: Element) -> Maximum | None:
    """So much within so long; None with its findings where a side is missing."""
    numerator, denominator = element.child("numerator"), element.child("denominator")
    quantity = parse_quantity(numerator) if numerator else None
    span = parse_span(denominator) if denominator else None
    element.finish()
    if not numerator or not denominator:
        element.stop("fhir.ratio-incomplete")
    return Maximum(quantity, span) if quantity and span else None


def _parts(element: Element) -> tuple[Fraction | None, str, str]:
    value, unit, code = element.decimal("value"), element.text("unit"), element.text("code")
    element.text("system")
    if element.has("comparator"):
        element.raw("comparator")
        element.stop("fhir.comparator")
    if not element.has("value"):
        element.stop("fhir.value-missing")
    elif value is not None and value < 0:
        element.stop("fhir.below-zero")
    element.finish()
    return value, unit, code


def _is_form_code(code: str) -> bool:
    """A code of no known unit (a dose form's number in a terminology) is not in contradiction with the printed word."""
    return code.strip().lower() not in _UNIT_WORDS
