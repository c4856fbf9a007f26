"""Orders that follow one another. Comes in: orders, and which replaces which. Goes out: the same orders, each in force until the next.

A later order replaces an earlier one only where the source says so (`priorPrescription`, or the same order number in a CSV with a later
start), for the same person, and from a moment that is stated. Two orders of one medicine that are in force together and say nothing of each
other are both kept, and a person is asked.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import combinations

from dosewright.core.interop.orders_in import ReceivedOrder
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.substances import Product, product_of
from dosewright.core.regimen.dosage import Period
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId

__all__ = ["Replacement", "check_same_medicine", "replace_earlier", "stated_start"]


@dataclass(frozen=True, slots=True)
class Replacement:
    """`later` takes the place of `earlier`. `where` is the place in the file that says so."""

    earlier: OrderId
    later: OrderId
    where: Mapping[str, Fact]


def replace_earlier(
    received: Sequence[ReceivedOrder], replacements: Iterable[Replacement]
) -> tuple[tuple[ReceivedOrder, ...], tuple[Finding, ...]]:
    """Each earlier order ends where its later one begins. Where that moment is not known, both are left for a person."""
    orders = {one.order.id: one for one in received}
    within = [said for said in replacements if said.earlier in orders and said.later in orders]
    findings: list[Finding] = []
    for said in within:
        found = _fault(said, orders, within)
        if found:
            findings.append(found)
            for known in (said.earlier, said.later):
                orders[known] = replace(orders[known], order=replace(orders[known].order, dosages=()))
        else:
            orders[said.earlier] = _ended(orders[said.earlier], stated_start(orders[said.later].order))
    return tuple(orders[one.order.id] for one in received), tuple(findings)


def _fault(said: Replacement, orders: Mapping[OrderId, ReceivedOrder], within: Sequence[Replacement]) -> Finding | None:
    earlier, later = orders[said.earlier].order, orders[said.later].order
    code = ""
    if earlier.person != later.person:
        code = "order.replaces-other-person"
    elif _comes_back(said, within):
        code = "order.replaces-itself"
    elif later.dosages and stated_start(later) is None:
        code = "order.replaces-without-start"
    elif not later.dosages:
        code = "order.replaced-by-unsettled"
    return Finding(code, Severity.STOP, said.where, {"earlier": said.earlier, "later": said.later}) if code else None


def _comes_back(said: Replacement, within: Sequence[Replacement]) -> bool:
    """Whether, going from earlier to earlier, one returns to where one was."""
    before: defaultdict[OrderId, list[OrderId]] = defaultdict(list)
    for one in within:
        before[one.later].append(one.earlier)
    seen: set[OrderId] = set()
    waiting = [said.earlier]
    while waiting:
        known = waiting.pop()
        if known == said.later:
            return True
        if known not in seen:
            seen.add(known)
            waiting += before[known]
    return False


def _ended(one: ReceivedOrder, at: Moment | None) -> ReceivedOrder:
    ends = [moment for moment in (one.order.until, at) if moment is not None]
    return replace(one, order=replace(one.order, until=min(ends)))


def stated_start(order: Order) -> Moment | None:
    """The moment from which the order counts, where it is stated: its own, else the earliest of its directions' bounds if all have one."""
    if order.since is not None:
        return order.since
    starts = [_start(period) for period in _periods(order)]
    return min((start for start in starts if start), default=None) if all(starts) else None


def check_same_medicine(received: Sequence[ReceivedOrder], file: str, medicines: Mapping[MedicineCode, Medicine]) -> Iterator[Finding]:
    """Two orders of one medicine for one person that are in force on the same day, under one code of it or under two (two makers')."""
    grouped: defaultdict[tuple[PersonId, Product], list[Order]] = defaultdict(list)
    for one in received:
        grouped[one.order.person, product_of(medicines[one.order.medicine])].append(one.order)
    for (person, _), orders in grouped.items():
        for first, second in combinations(orders, 2):
            if _overlap(first, second):
                where: dict[str, Fact] = {"file": file, "person": person, "order": first.id}
                facts: dict[str, Fact] = {"other": second.id, "medicine": medicines[first.medicine].label}
                yield Finding("order.same-medicine-twice", Severity.DECIDE, where, facts)


def _overlap(first: Order, second: Order) -> bool:
    (first_from, first_to), (second_from, second_to) = _span(first), _span(second)
    return first_from < second_to and second_from < first_to


_ALWAYS, _NEVER = Moment(date.min), Moment(date.max)


def _span(order: Order) -> tuple[Moment, Moment]:
    """From and, not included, to. Open where nothing is stated."""
    starts, ends = [_start(period) for period in _periods(order)], [_end(period) for period in _periods(order)]
    begins = min((start or _ALWAYS for start in starts), default=_ALWAYS)
    over = max((end or _NEVER for end in ends), default=_NEVER)
    return max(begins, order.since or _ALWAYS), min(over, order.until or _NEVER)


def _periods(order: Order) -> list[Period]:
    repeats = (dosage.timing.repeat if dosage.timing else None for dosage in order.dosages)
    return [(repeat.bounds_period if repeat else None) or Period() for repeat in repeats]


def _start(period: Period) -> Moment | None:
    if period.start is None or period.start_latest is not None:
        return None
    return _moment(period.start)


def _end(period: Period) -> Moment | None:
    """The end is a day that still counts."""
    if period.end is None or isinstance(period.end, datetime):
        return _moment(period.end) if period.end else None
    return Moment(period.end + timedelta(days=1)) if period.end < date.max else None


def _moment(written: date | datetime) -> Moment:
    """The wall-clock time as written."""
    return Moment(written.date(), written.time().replace(tzinfo=None)) if isinstance(written, datetime) else Moment(written, time(0, 0))
