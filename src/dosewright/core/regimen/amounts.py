"""How much of one dosage goes into a card at one time: one exact quantity, or the reason why there is none.

Source: HL7 FHIR R4 (4.0.1) Dosage.doseAndRate, maxDosePerAdministration.
"""

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import decide, refuse
from dosewright.core.units.finding import Finding
from dosewright.core.units.quantity import Quantity

__all__ = ["find_quantity"]


_COUNTED = frozenset({"", "tablet", "capsule", "caplet", "sachet", "suppository", "patch"})
_MOST_AT_ONCE = 20  # units of a solid form at one time; more is rather a slip or milligrams. Common practice, no source


def find_quantity(dosage: Dosage) -> Quantity | Finding:
    """The quantity of each dose. A rate cannot be packed; a range, two amounts, none at all and a zero or
    an absurd number are questions."""
    if any(amount.rated for amount in dosage.amounts):
        return refuse("dose.rate")
    stated = {amount.quantity for amount in dosage.amounts}
    if any(amount.range for amount in dosage.amounts):
        return decide("dose.range")
    if len(stated) > 1:
        return decide("dose.several")
    quantity = next(iter(stated), None)
    if quantity is None:
        return decide("dose.missing")
    return _within_limit(quantity, dosage.max_per_administration) or quantity


def _within_limit(quantity: Quantity, limit: Quantity | None) -> Finding | None:
    if quantity.count == 0:
        return decide("dose.zero")
    if quantity.unit in _COUNTED and quantity.count > _MOST_AT_ONCE:
        return decide("dose.large", dose=quantity.count, unit=quantity.unit)
    if limit and limit.unit != quantity.unit:
        return decide("dose.maximum-in-another-unit", unit=quantity.unit, limit=limit.unit)
    if limit and quantity.count > limit.count:
        return decide("dose.above-maximum", dose=quantity.count, limit=limit.count, unit=limit.unit)
    return None
