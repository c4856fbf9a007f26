"""Why a person's set may be refused whole, worked out anew: the orders that belong in cards in, codes as on the alongside list out."""

from collections.abc import Iterable
from datetime import date, timedelta

from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.dates import last_day_of_product
from dosewright.core.packing.verify.expected import Asked
from dosewright.core.units.ids import MedicineCode

__all__ = ["reasons_to_refuse"]


def reasons_to_refuse(to_pack: Iterable[Asked], request: PlanRequest) -> frozenset[str]:
    """A cycle longer than is supplied at one go, or a week in which something is due after something else of that week has run out.

    A week is what no two cards share, so that without such a week every card keeps to its last dose.
    """
    found = {"cycle.too-long"} if request.days > request.profile.number("max_supply_days") else set[str]()
    weeks: dict[int, tuple[set[date], set[MedicineCode]]] = {}
    for claim in to_pack:
        for day, _, _ in claim.doses:
            days, codes = weeks.setdefault((day - request.first).days // request.format.rows, (set(), set()))
            days.add(day)
            codes.add(claim.order.medicine)
    if any(max(days) > _keeps_to(codes, request) for days, codes in weeks.values()):
        found.add("beyond-use")
    return frozenset(found)


def _keeps_to(codes: Iterable[MedicineCode], request: PlanRequest) -> date:
    profile = request.prepared_on + timedelta(days=request.profile.number("bud_max_days"))
    return min([profile, *(last for code in codes if (last := last_day_of_product(code, request)))])
