"""How much of a substance a person takes in a day against the most that a rule allows: orders and rules in, findings out.

Asked when a cycle is planned, and before that when an order is confirmed. Everything supplied counts, in a card or alongside; an as-needed
order counts every day at the most that it allows. A day is midnight to midnight. What cannot be counted in milligrams is said, never taken
for nothing.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import lru_cache

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.substances import DailyMaximum, milligrams_of, substances_of
from dosewright.core.medicines.suitability import Rules
from dosewright.core.packing.most_a_day import most_a_day
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity

__all__ = ["Taking", "check_daily_totals", "check_taken"]

_Held = tuple[Order, Medicine, int, int]  # an order, its product, and which of how many substances the rule is about


@dataclass(frozen=True, slots=True)
class Taking:
    """What counting needs to know: the products, the rules, one person's dosing times, the days."""

    medicines: Mapping[MedicineCode, Medicine]
    rules: Rules
    timetable: Timetable
    first: date
    days: int


@dataclass(frozen=True, slots=True)
class _Taken:
    """Milligrams on each day by the clock, and what may be taken on any day besides. None: it cannot be counted."""

    days: dict[date, Fraction]
    besides: Fraction | None


def check_daily_totals(person: Person, supplied: Sequence[Order], request: PlanRequest) -> tuple[Finding, ...]:
    """As `check_taken`, for the cycle that is planned."""
    taking = Taking(request.medicines, request.rules, request.timetable_of(person), request.first, request.days)
    return check_taken(person, supplied, taking)


def check_taken(person: Person, orders: Sequence[Order], taking: Taking) -> tuple[Finding, ...]:
    """For each rule the fullest day if it is above the maximum, or that what is taken cannot be counted. In the order of the rules."""
    if not taking.rules.maxima:
        return ()
    held: dict[int, list[_Held]] = {}  # by the rule's place
    for order in orders:
        if medicine := taking.medicines.get(order.medicine):
            for place, nth, of in _limited(medicine, taking.rules):
                held.setdefault(place, []).append((order, medicine, nth, of))
    return tuple(found for place in sorted(held) for found in _check(taking.rules.maxima[place], person, held[place], taking))


def _check(rule: DailyMaximum, person: Person, held: Sequence[_Held], taking: Taking) -> Iterator[Finding]:
    taken = [_taken(one, taking) for one in held]
    besides = sum((one.besides for one in taken if one.besides is not None), Fraction(0))
    total, day = _fullest([one.days for one in taken], taking.first)
    cited: dict[str, Fact] = {"rule": rule.id, "reason": rule.reason, "source": rule.source, "dated": rule.dated}
    medicines: dict[str, Fact] = {"name": person.name, "medicine": ", ".join(dict.fromkeys(medicine.label for _, medicine, _, _ in held))}
    where: dict[str, Fact] = {"person": person.id, "date": day}
    if total + besides > rule.milligrams:
        amounts: dict[str, Fact] = {"total": total + besides, "as_needed": besides, "limit": rule.milligrams}
        yield Finding("daily-maximum", Severity.DECIDE, where, {**medicines, **amounts, **cited})
    elif any(one.besides is None for one in taken):
        yield Finding("daily-maximum.not-counted", Severity.NOTE, where, {**medicines, "limit": rule.milligrams, **cited})


@lru_cache(maxsize=16384)
def _limited(medicine: Medicine, rules: Rules) -> tuple[tuple[int, int, int], ...]:
    """The place of each rule about a substance of the product, and which of how many substances that is."""
    substances = substances_of(medicine, rules.blends)
    about = ((place, nth) for place, rule in enumerate(rules.maxima) for nth, name in enumerate(substances) if rule.limits(name))
    return tuple((place, nth, len(substances)) for place, nth in about)


def _fullest(each: Iterable[dict[date, Fraction]], first: date) -> tuple[Fraction, date]:
    """The largest sum of one day, and the first such day; nothing on the first day where nothing is taken by the clock."""
    sums: dict[date, Fraction] = {first: Fraction(0)}
    for days in each:
        for day, milligrams in days.items():
            sums[day] = sums.get(day, Fraction(0)) + milligrams
    most = max(sums.values())
    return most, min(day for day, total in sums.items() if total == most)


def _taken(held: _Held, taking: Taking) -> _Taken:
    order, *_ = held
    expansion = expand(order, taking.timetable, taking.first, taking.days)
    if expansion.status not in (ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED):
        return _Taken({}, None)
    days: dict[date, Fraction] = {}
    for dose in expansion.doses:
        if order.in_force(Moment(dose.day, dose.time)):
            milligrams = _milligrams(dose.quantity, held)
            if milligrams is None:
                return _Taken({}, None)
            days[dose.day] = days.get(dose.day, Fraction(0)) + milligrams
    return _Taken(days, _as_needed(held))


def _as_needed(held: _Held) -> Fraction | None:
    """Milligrams a day that the order's as-needed parts allow together; None where one of them has no limit that can be counted."""
    order, *_ = held
    most = [most_a_day(dosage) for dosage in order.dosages if dosage.as_needed]
    counted = [_milligrams(quantity, held) if quantity else None for quantity in most]
    return None if None in counted else sum((one for one in counted if one is not None), Fraction(0))


def _milligrams(dose: Quantity, held: _Held) -> Fraction | None:
    _, medicine, nth, of = held
    return milligrams_of(dose, medicine, nth, of)
