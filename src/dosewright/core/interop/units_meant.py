"""Directions that count without saying what ("1 bd", "TWO to be taken at night"): the product says it, and the pharmacist confirms it.

Comes in: a reading and the medicine. Goes out: the same reading with the product's own unit where none was written, named in `assumed`.
Only products counted piece by piece: "one" of a liquid may be a spoonful or a millilitre, so there the amount stays without a unit.
"""

from dataclasses import replace

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.dosage import Amount, Dosage, Range
from dosewright.core.regimen.reading.reading_values import Choice, Question, Reading
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["mean_units"]

_PIECES = frozenset({"tablet", "capsule", "patch", "sachet", "suppository"})


def mean_units(reading: Reading, medicine: Medicine) -> Reading:
    """The reading as it was where every amount has its unit, or where the product is not counted in pieces."""
    if medicine.unit not in _PIECES:
        return reading
    dosages = _fill(reading.dosages, medicine.unit)
    questions = tuple(_fill_question(question, medicine.unit) for question in reading.questions)
    if (dosages, questions) == (reading.dosages, reading.questions):
        return reading
    assumed = Finding("assumed.unit", Severity.NOTE, facts={"unit": medicine.unit})
    return replace(reading, dosages=dosages, questions=questions, assumed=(*reading.assumed, assumed))


def _fill_question(question: Question, unit: Unit) -> Question:
    return replace(question, choices=tuple(_fill_choice(choice, unit) for choice in question.choices))


def _fill_choice(choice: Choice, unit: Unit) -> Choice:
    return replace(choice, dosages=_fill(choice.dosages, unit))


def _fill(dosages: tuple[Dosage, ...], unit: Unit) -> tuple[Dosage, ...]:
    return tuple(_fill_dosage(dosage, unit) for dosage in dosages)


def _fill_dosage(dosage: Dosage, unit: Unit) -> Dosage:
    most, at_once = dosage.max_per_period, dosage.max_per_administration
    return replace(
        dosage,
        amounts=tuple(_fill_amount(amount, unit) for amount in dosage.amounts),
        max_per_period=replace(most, quantity=_named(most.quantity, unit)) if most else None,
        max_per_administration=_named(at_once, unit) if at_once else None,
    )


def _fill_amount(amount: Amount, unit: Unit) -> Amount:
    quantity, limits = amount.quantity, amount.range
    return replace(amount, quantity=_named(quantity, unit) if quantity else None, range=_fill_range(limits, unit) if limits else None)


def _fill_range(limits: Range, unit: Unit) -> Range:
    return Range(_named(limits.low, unit) if limits.low else None, _named(limits.high, unit) if limits.high else None)


def _named(quantity: Quantity, unit: Unit) -> Quantity:
    return quantity if quantity.unit else Quantity(quantity.count, unit)
