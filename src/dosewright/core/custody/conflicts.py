"""What stands against an order at the moment it is confirmed, though its directions are clear: amounts that its product cannot make, and
more of a substance in a day than is allowed, by itself and together with the person's other orders in force.

Comes in: the order as it would count, the orders that would count beside it, what is known of the products. Goes out: a `stop` where
nothing can be packed from it as it stands, a `decide` that is confirmed with a reason only, a `note`.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from dosewright.core.custody.meanings import LOOK_AHEAD
from dosewright.core.medicines.amounts import NotCountable, units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.suitability import Rules
from dosewright.core.packing.daily_total import Taking, check_taken
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity

__all__ = ["Known", "check_conflicts"]

# An amount of which no count of whole, half or quarter units of the product can be made.
_CANNOT_BE_MADE = frozenset({"amount.inexact", "amount.not-breakable", "amount.too-many"})


@dataclass(frozen=True, slots=True)
class Known:
    """Whose order it is; the products of all the person's orders; the pharmacy's rules about them."""

    person: Person
    medicines: Mapping[MedicineCode, Medicine]
    rules: Rules


def check_conflicts(order: Order, others: Sequence[Order], known: Known, timetable: Timetable, first: date) -> tuple[Finding, ...]:
    """All of them, over one cycle from `first`. `others`: what would be in force beside the order, without the one that it replaces."""
    return (*_check_amounts(order, known), *_check_total(order, others, known, timetable, first))


def _check_amounts(order: Order, known: Known) -> Iterator[Finding]:
    """Each amount that cannot be made of the product: nothing scheduled could be packed; what is taken when needed is for a person."""
    medicine = known.medicines.get(order.medicine)
    if medicine is None:
        return
    asked = dict.fromkeys((quantity, dosage.as_needed) for dosage in order.dosages for quantity in _quantities(dosage))
    for quantity, as_needed in asked:
        count = units_of(quantity, medicine)
        if isinstance(count, NotCountable) and count.code in _CANNOT_BE_MADE:
            facts: dict[str, Fact] = {
                "name": known.person.name,
                "medicine": medicine.label,
                "amount": quantity.count,
                "unit": quantity.unit,
            }
            severity = Severity.DECIDE if as_needed else Severity.STOP
            yield Finding(count.code, severity, {"person": known.person.id, "order": order.id}, facts)


def _quantities(dosage: Dosage) -> Iterator[Quantity]:
    for amount in dosage.amounts:
        ends = (amount.range.low, amount.range.high) if amount.range else ()
        yield from (quantity for quantity in (amount.quantity, *ends) if quantity is not None)


def _check_total(order: Order, others: Sequence[Order], known: Known, timetable: Timetable, first: date) -> tuple[Finding, ...]:
    """Alone; and where that is within the limit, together with the others. Limits that the order has no part in are not its matter."""
    if order.medicine not in known.medicines:
        return ()
    taking = Taking(known.medicines, known.rules, timetable, first, LOOK_AHEAD)
    alone = check_taken(known.person, (order,), taking)
    about = {finding.facts["rule"] for finding in alone if finding.severity is Severity.DECIDE}
    before = check_taken(known.person, others, taking)
    together = check_taken(known.person, (order, *others), taking)
    return (*(f for f in alone if f.facts["rule"] in about), *(f for f in together if f.facts["rule"] not in about and f not in before))
