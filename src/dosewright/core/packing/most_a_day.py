"""The most that an as-needed dosage allows in one day: FHIR structure in, a quantity out, or None where the directions set no limit.

Source: HL7 FHIR R4 Dosage.maxDosePerPeriod, Timing.repeat (frequency up to frequencyMax in each period).
"""

from fractions import Fraction
from math import ceil

from dosewright.core.regimen.dosage import Dosage, Repeat, Span, TimeUnit
from dosewright.core.units.quantity import Quantity

__all__ = ["most_a_day"]

_DAYS = {TimeUnit.MINUTE: Fraction(1, 1440), TimeUnit.HOUR: Fraction(1, 24), TimeUnit.DAY: Fraction(1), TimeUnit.WEEK: Fraction(7)}


def most_a_day(dosage: Dosage) -> Quantity | None:
    """Its stated maximum where that is for one day; else the largest dose, as often as it may be taken within a day."""
    stated = dosage.max_per_period
    if stated and _is_a_day(stated.span):
        return stated.quantity
    dose, times = _largest(dosage), _times(dosage.timing.repeat if dosage.timing else None)
    return Quantity(dose.count * times, dose.unit) if dose and times else None


def _is_a_day(span: Span) -> bool:
    return span.unit in _DAYS and span.value * _DAYS[span.unit] == 1


def _largest(dosage: Dosage) -> Quantity | None:
    """One amount, or the upper end of a range; None where there is none, or the units differ."""
    found = [amount.quantity or (amount.range.high if amount.range else None) for amount in dosage.amounts]
    given = [quantity for quantity in found if quantity is not None]
    if not given or len(given) < len(found) or len({quantity.unit for quantity in given}) > 1:
        return None
    return max(given, key=lambda quantity: quantity.count)


def _times(repeat: Repeat | None) -> int | None:
    """How often within one day, at most: "4 to 6 hours" is six times."""
    if repeat is None:
        return None
    fixed = max(len(repeat.when), len(repeat.time_of_day))
    often = repeat.frequency_max or repeat.frequency
    if repeat.period is None or repeat.period_unit not in _DAYS:
        return fixed or None
    return max(fixed, ceil((often or 1) / (repeat.period * _DAYS[repeat.period_unit])))
