"""A person's orders as a proposal sees them: each that is due in the cycle, with its freedom, its days, and how many doses it has when.

Comes in: the setting, and which orders a pharmacist wants left where they are. Goes out: `Seen` values in order of the orders' ids, and a
finding for each order whose times nobody knows.
"""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from dosewright.core.medicines.substances import same_substance, substances_of
from dosewright.core.medicines.time_of_day import MealRelation
from dosewright.core.packing.dosing_times.clashes import Candidate
from dosewright.core.packing.dosing_times.freedom import Freedom, Times, freedom_of, relation_of
from dosewright.core.packing.dosing_times.setting import Setting
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId, SlotName

__all__ = ["Seen", "check_scheduled", "see_orders", "without_options"]

_BEYOND = 8  # days looked at beyond the cycle, so that what meets only across its end is seen: a week and a day


@dataclass(frozen=True, slots=True)
class Seen:
    """One order that is due in the cycle: what it may choose, and how many doses of the cycle are due at each of today's dosing times."""

    candidate: Candidate
    freedom: Freedom
    doses: Counter[SlotName]


def see_orders(setting: Setting, stay: Collection[OrderId]) -> tuple[Seen, ...]:
    """Every order with a dose in the cycle."""
    seen = [found for order in setting.orders if (found := _see(order, setting, stay))]
    return tuple(_same_substance(one, seen, setting) for one in seen)


def check_scheduled(setting: Setting) -> Iterator[Finding]:
    """A `decide` for each order of the cycle that cannot be scheduled as it stands: a proposal cannot reckon with it."""
    for order in setting.orders:
        if _touches(order, setting.request) and setting.expand(order, setting.request.days).findings:
            yield setting.found("times.not-scheduled", Severity.DECIDE, order)


def without_options(seen: Seen, options: Collection[int], setting: Setting) -> Seen:
    """The same order without options that turned out to be none."""
    if not options:
        return seen
    left = tuple(times for at, times in enumerate(seen.candidate.options) if at not in options)
    if len(left) == 1:
        return _held(seen, setting.note("times.stays-nowhere", seen.candidate.order))
    return replace(seen, candidate=replace(seen.candidate, options=left))


def _touches(order: Order, request: PlanRequest) -> bool:
    begun = order.since is None or order.since.day <= request.last
    return begun and (order.until is None or order.until > Moment(request.first))


def _see(order: Order, setting: Setting, stay: Collection[OrderId]) -> Seen | None:
    doses = setting.expand(order, setting.request.days).doses
    if not doses:
        return None
    counted = Counter(dose.slot for dose in doses)
    today = tuple(slot for slot in setting.timetable.slots if slot.name in counted)
    freedom = _freedom(order, today, setting, stay)
    medicine = setting.medicine_of(order)
    relation = relation_of(order, medicine, setting) if medicine else MealRelation.ANY
    return Seen(Candidate(order, medicine, relation, freedom.options, _days(order, setting)), freedom, counted)


def _freedom(order: Order, today: Times, setting: Setting, stay: Collection[OrderId]) -> Freedom:
    if order.id in stay:
        return Freedom((today,), why=setting.note("times.stays-asked", order))
    return freedom_of(order, today, setting)


def _days(order: Order, setting: Setting) -> dict[SlotName, frozenset[int]]:
    days: dict[SlotName, set[int]] = {}
    for dose in setting.expand(order, setting.request.days + _BEYOND).doses:
        days.setdefault(dose.slot, set()).add(dose.day.toordinal())
    return {slot: frozenset(found) for slot, found in days.items()}


def _same_substance(one: Seen, seen: Sequence[Seen], setting: Setting) -> Seen:
    """Two orders of one substance stay together or apart as they are: brought together they could be too much at once."""
    other = next((found for found in seen if found is not one and _share(one.candidate, found.candidate, setting.request)), None)
    if other is None or not one.candidate.free:
        return one
    return _held(one, setting.note("times.stays-same-substance", one.candidate.order, other_order=other.candidate.order.id))


def _share(one: Candidate, other: Candidate, request: PlanRequest) -> bool:
    if one.medicine is None or other.medicine is None:
        return False
    first, second = (substances_of(medicine, request.rules.blends) for medicine in (one.medicine, other.medicine))
    return any(same_substance(name, held) for name in first for held in second)


def _held(seen: Seen, why: Finding) -> Seen:
    today = seen.candidate.options[:1]
    return Seen(replace(seen.candidate, options=today), Freedom(today, why=why), seen.doses)
