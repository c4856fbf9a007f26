"""What paper says of one medicine: its name and strength, how it looks, how much is there. Catalogue text is tidied, never reworded."""

from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine, Shape
from dosewright.core.units.amount_words import MEASURED_UNITS, NumberStyle, format_count, format_quantity, plural_unit
from dosewright.core.units.quantity import Quantity
from dosewright.core.units.safe_text import tidy_text

__all__ = [
    "SHAPES",
    "closed",
    "described",
    "form_beyond_unit",
    "named",
    "named_short",
    "placed_words",
    "sentence",
    "total_or_none",
    "total_words",
]

# How a shape is said to people; outlines with a formula of their own that look alike in the hand share a word.
SHAPES = {Shape.ROUND: "round", Shape.BICONVEX: "round", Shape.CAPLET: "long", Shape.OVAL: "oval", Shape.CAPSULE: "capsule"}


def named(medicine: Medicine, country: str) -> str:
    """ "metformin 500 mg modified-release tablet": generic name, strength and form, for the header and the sheets."""
    return " ".join(part for part in (named_short(medicine, country), medicine.form) if part)


def named_short(medicine: Medicine, country: str) -> str:
    """ "metformin 500 mg"."""
    return tidy_text(" ".join(part for part in (medicine.name, medicine.strength) if part), country)


def form_beyond_unit(medicine: Medicine) -> str:
    """What the form says besides the countable word: "modified-release" of a modified-release tablet, "" of a tablet."""
    words = [word for word in medicine.form.split() if word not in (medicine.unit, f"{medicine.unit}s")]
    return " ".join(words)


def described(medicine: Medicine) -> str:
    """ "white, oval, marked M 5"; "" where the catalogue says nothing."""
    shape = SHAPES[medicine.shape] if medicine.shape else ""
    mark = f"marked {medicine.mark}" if medicine.mark else ""
    return ", ".join(part for part in (medicine.colour, shape, mark) if part)


def placed_words(medicine: Medicine, quantity: Quantity, style: NumberStyle) -> str:
    """ "1 tablet", "half a tablet": an amount in a cavity, in the medicine's own unit."""
    unit = quantity.unit if quantity.unit in MEASURED_UNITS else medicine.unit
    return format_quantity(Quantity(quantity.count, unit), style)


def total_words(medicine: Medicine, count: Fraction) -> str:
    """ "56 tablets", "10 and a half tablets"."""
    if 0 < count < 1:
        return format_quantity(Quantity(count, medicine.unit))
    return f"{format_count(count)} {plural_unit(medicine.unit, count)}"


def total_or_none(medicine: Medicine, count: Fraction) -> str:
    """ "2 tablets", or "none"."""
    return total_words(medicine, count) if count else "none"


def sentence(text: str) -> str:
    """The text with a capital first letter and a full stop, unless its last character closes it already."""
    text = closed(text)
    return text[:1].upper() + text[1:]


def closed(text: str) -> str:
    """The text with a full stop where it can have one: after a unit it is read as part of it ("mg."), so there it goes without."""
    text = text.strip()
    ends = not text or text[-1] in ".!?:" or text.split()[-1] in _UNITS
    return text if ends else f"{text}."


_UNITS = frozenset({"mg", "g", "kg", "mL", "L", "mcg"})
