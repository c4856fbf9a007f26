"""Amounts as people read them on labels and screens: "half a tablet", "1 and a half tablets", "1,000 units", "125 micrograms".

Comes in: exact amounts. Goes out: English text that obeys the safe-text rules. Sources: USP <17> asks for digits; UK and New Zealand
labels write the number of units in capital words; ISMP list of error-prone abbreviations; BNF, "micrograms in full, below 1 mg".
"""

from fractions import Fraction
from typing import Literal

from dosewright.core.units.quantity import Quantity, format_amount

__all__ = [
    "MEASURED_UNITS",
    "MICROGRAM_COUNTRIES",
    "NUMBER_WORDS",
    "NumberStyle",
    "format_count",
    "format_quantity",
    "format_strength",
    "plural_unit",
]

NumberStyle = Literal["digits", "words"]

# Units that are measured, not counted: always digits and decimals, never "half a mg".
MEASURED_UNITS = frozenset(
    {"mg", "mcg", "microgram", "micrograms", "g", "kg", "mL", "L", "unit", "units", "international unit", "mmol", "%"}
)

# Where amounts below 1 mg are written in micrograms, in full (BNF, guidance on prescribing; used in the UK and Ireland).
MICROGRAM_COUNTRIES = frozenset({"GB", "UK", "IE"})

NUMBER_WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
_PARTS = {2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 8: "eighth", 10: "tenth"}
_SPELT_ALIKE = frozenset({"mg", "mcg", "g", "kg", "mL", "L", "mmol", "%", ""})


def format_strength(amount: Fraction, unit: str, country: str) -> str:
    """An amount of substance: `(Fraction(1, 8), "mg", "GB")` → "125 micrograms", "US" → "0.125 mg"; `(1000, "unit")` → "1,000 units".

    Never a trailing zero, always a leading one, a space between number and unit. An amount without a decimal form is a ValueError:
    no strength is a third of a milligram. Source: ISMP; BNF for micrograms.
    """
    if country in MICROGRAM_COUNTRIES:
        amount, unit = _in_micrograms(amount, unit)
    if "/" in (exact := format_amount(amount)):
        raise ValueError(f"a strength must have a decimal form: {exact} {unit}")
    return f"{_thousands(exact)} {plural_unit(unit, amount)}"


def _in_micrograms(amount: Fraction, unit: str) -> tuple[Fraction, str]:
    if unit == "mg" and 0 < amount < 1:
        return amount * 1000, "microgram"
    return (amount, "microgram") if unit == "mcg" else (amount, unit)


def format_quantity(quantity: Quantity, style: NumberStyle = "digits") -> str:
    """How many units to take or place: "half a tablet", "1 and a half tablets"; in words "ONE AND A HALF tablets". English.

    Measured units keep digits in both styles: "2.5 mL". A quantity that names no unit gives the count alone.
    """
    count, unit = quantity.count, str(quantity.unit)
    if not unit:
        return format_count(count, style)
    if unit in MEASURED_UNITS:
        return _measured(count, unit)
    if 0 < count < 1:
        return _part_of(count, unit, style)
    return f"{format_count(count, style)} {plural_unit(unit, count)}"


def format_count(count: Fraction, style: NumberStyle = "digits") -> str:
    """The number alone: "2", "half", "1 and a half"; in words "TWO", "HALF", "ONE AND A HALF"."""
    whole, rest = divmod(count, 1)
    if not rest:
        return _whole(int(whole), style)
    alone = _part(rest) if rest == Fraction(1, 2) else _with_article(rest)
    part = alone if not whole else f"{_whole(int(whole), style)} and {_with_article(rest)}"
    return part.upper() if style == "words" else part


def _part_of(count: Fraction, unit: str, style: NumberStyle) -> str:
    article = "an" if unit[0] in "aeiou" else "a"
    if count == Fraction(1, 2):
        return f"{'HALF' if style == 'words' else 'half'} {article} {unit}"
    part = _with_article(count)
    return f"{part.upper() if style == 'words' else part} of {article} {unit}"


def _with_article(rest: Fraction) -> str:
    return f"{'an' if rest == Fraction(1, 8) else 'a'} {_part(rest)}" if rest.numerator == 1 and rest.denominator in _PARTS else _part(rest)


def _part(rest: Fraction) -> str:
    if rest.denominator not in _PARTS:
        return f"{rest.numerator} of {rest.denominator} parts"
    name = _PARTS[rest.denominator]
    return name if rest.numerator == 1 else f"{NUMBER_WORDS[rest.numerator]} {name}s"


def _whole(number: int, style: NumberStyle) -> str:
    return NUMBER_WORDS[number].upper() if style == "words" and number < len(NUMBER_WORDS) else f"{number:,}"


def _measured(count: Fraction, unit: str) -> str:
    exact = format_amount(count)
    if "/" not in exact:
        return f"{_thousands(exact)} {plural_unit(unit, count)}"
    return _part_of(count, unit, "digits") if count < 1 else f"{format_count(count)} {plural_unit(unit, count)}"


def _thousands(exact: str) -> str:
    whole, point, decimals = exact.partition(".")
    return f"{int(whole):,}{point}{decimals}"


def plural_unit(unit: str, count: Fraction) -> str:
    """The unit's word for that many: up to 1 "tablet", above it "tablets"; "mg" stays."""
    if unit in _SPELT_ALIKE or unit.endswith("s") or (count <= 1 and not (count < 1 and unit in MEASURED_UNITS)):
        return unit
    if unit.endswith(("ch", "sh", "x")):
        return f"{unit}es"
    return f"{unit[:-1]}ies" if unit.endswith("y") and unit[-2:-1] not in "aeiou" else f"{unit}s"
