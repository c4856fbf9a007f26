"""How long each card keeps, and whether the cycle outlives it: drafts of cards in, beyond-use dates and findings out. Holds R5.

A card keeps until the earliest of: day of packing plus the profile's longest time, each product's own limit, each known lot's expiry.
A card whose last dose is later is not made; the finding names what binds and how many days the cycle could have.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.beyond_use import beyond_use
from dosewright.core.packing.cards import DraftColumn
from dosewright.core.packing.last_day import last_day_of, limits_of
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person

__all__ = ["Keeping", "check_keeping", "keepings_of"]


@dataclass(frozen=True, slots=True)
class Keeping:
    """The last day on which a card's contents may be taken, and the product that binds it; none where the profile does."""

    last: date
    binds: Medicine | None


def keepings_of(drafts: Iterable[Sequence[DraftColumn]], request: PlanRequest) -> list[Keeping]:
    """Each card's beyond-use date from all that lies in it. Cards with the same medicines keep as long."""
    known: dict[tuple[MedicineCode, ...], Keeping] = {}
    found = []
    for draft in drafts:
        medicines = {item.medicine.code: item.medicine for column in draft for item in column.items}
        codes = tuple(medicines)
        found.append(known.get(codes) or known.setdefault(codes, _keeping(medicines.values(), request)))
    return found


def _keeping(medicines: Iterable[Medicine], request: PlanRequest) -> Keeping:
    longest = timedelta(days=request.profile.number("bud_max_days"))
    limits = [(limit, m) for m in medicines for limit in limits_of(m, request)]
    last = beyond_use(request.prepared_on, (limit for limit, _ in limits), longest)
    binding = sorted((m.code, at) for at, (limit, m) in enumerate(limits) if limit == last)
    by_profile = last == request.prepared_on + longest
    return Keeping(last, None if by_profile or not binding else limits[binding[0][1]][1])


def check_keeping(
    person: Person, drafts: Sequence[Sequence[DraftColumn]], keepings: Sequence[Keeping], request: PlanRequest
) -> tuple[Finding, ...]:
    """A `stop` for the card that falls short first, or for a cycle longer than the profile supplies at one go; else nothing."""
    if not drafts:
        return ()
    longest = request.profile.number("max_supply_days")
    if request.days > longest:
        facts: dict[str, Fact] = {"name": person.name, "days": request.days, "longest": longest, "profile": request.profile.title}
        return (Finding("cycle.too-long", Severity.STOP, {"person": person.id}, facts),)
    late = [(k.last, k, draft) for draft, k in zip(drafts, keepings, strict=True) if _last_dose(draft) > k.last]
    if not late:
        return ()
    _, keeping, draft = min(late, key=lambda entry: entry[0])
    return (_too_late(person, keeping, draft, request),)


def _last_dose(draft: Sequence[DraftColumn]) -> date:
    lasts = (_last_due(column) for column in draft)
    return max(day for day in lasts if day)


def _last_due(column: DraftColumn) -> date | None:
    """The last of the column's days on which anything in it is due: mostly its very last."""
    return next((day for day in reversed(column.days) if any(day in item.counts for item in column.items)), None)


def _days_possible(draft: Sequence[DraftColumn], request: PlanRequest) -> int:
    """The days before the first that anything taken until then would not keep to."""
    taken = sorted((day, item.medicine.code) for column in draft for item in column.items for day in column.days if day in item.counts)
    limits = {item.medicine.code: last_day_of([item.medicine], request) for column in draft for item in column.items}
    earliest = date.max
    for day, code in taken:
        earliest = min(earliest, limits[code])
        if earliest < day:
            return (day - request.first).days
    return request.days


def _too_late(person: Person, keeping: Keeping, draft: Sequence[DraftColumn], request: PlanRequest) -> Finding:
    possible, last_dose = _days_possible(draft, request), _last_dose(draft)
    binds = keeping.binds.label if keeping.binds else f"{request.profile.title}, {request.profile.number('bud_max_days')} days from packing"
    facts: dict[str, Fact] = {"name": person.name, "binds": binds, "last": last_dose, "limit": keeping.last, "days_possible": possible}
    return Finding("beyond-use", Severity.STOP, {"person": person.id}, facts)
