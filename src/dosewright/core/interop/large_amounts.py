"""Amounts that no one takes at one time. Comes in: an order's dosages and its medicine. Goes out: a question for each such amount.

A slip of a decimal point or of a unit shows as an amount that is far too large; twenty units of a solid form at one time is more than any
usual order (common practice, no source). Milligrams count as the units that they are.
"""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import lru_cache

from dosewright.core.medicines.amounts import NotCountable, units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.directions import Directions, directions_of
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.quantity import Quantity

__all__ = ["check_large_amounts"]

_MOST_UNITS = 20
_MOST = 5000  # of whatever else is counted or measured: mL, puffs, milligrams of a product without a strength


def check_large_amounts(dosages: Iterable[Dosage], medicine: Medicine) -> tuple[Finding, ...]:
    """A `decide` for each amount at one time that is beyond belief, in order."""
    return _large_in(directions_of(tuple(dosages)), medicine)


@lru_cache(maxsize=16384)
def _large_in(directions: Directions, medicine: Medicine) -> tuple[Finding, ...]:
    """Kept, because orders share a few hundred directions."""
    return tuple(_found(directions.dosages, medicine))


def _found(dosages: Iterable[Dosage], medicine: Medicine) -> Iterator[Finding]:
    for quantity in dict.fromkeys(quantity for dosage in dosages for quantity in _at_once(dosage)):
        units = units_of(quantity, medicine)
        pieces = medicine.size is not None or medicine.unit in ("tablet", "capsule")
        if quantity.count > _MOST or (pieces and _too_many(units)):
            facts: dict[str, Fact] = {"amount": quantity.count, "unit": quantity.unit, "medicine": medicine.label}
            yield Finding("order.large-amount", Severity.DECIDE, {}, facts)


def _too_many(units: Fraction | NotCountable) -> bool:
    return units > _MOST_UNITS if isinstance(units, Fraction) else units.code == "amount.too-many"


def _at_once(dosage: Dosage) -> Iterator[Quantity]:
    for amount in dosage.amounts:
        held = (amount.quantity, amount.range.low if amount.range else None, amount.range.high if amount.range else None)
        yield from (quantity for quantity in held if quantity is not None)
