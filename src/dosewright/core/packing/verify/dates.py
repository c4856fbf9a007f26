"""R5: no cavity is dated after its card's beyond-use date, no card keeps longer than what is in it, no unit outlives its own expiry."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from dosewright.core.medicines.suitability import rules_about
from dosewright.core.packing.plan_values import Card, Content, PersonPlan, each_contents
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.fault import in_card, in_cavity
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person

__all__ = ["check_dates", "last_day_of_product"]

_LastDays = list[tuple[MedicineCode, date]]  # of each product that has one


def check_dates(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """Each card's date against all that is in it, each cavity's day against the card's date and each product's. The last day is allowed."""
    known: dict[MedicineCode, date | None] = {}
    longest = request.prepared_on + timedelta(days=request.profile.number("bud_max_days"))
    for card in planned.cards:
        each = {id(cavity.contents): _last_days(cavity.contents, known, request) for cavity in each_contents(card.cavities)}
        limits = [limit for found in each.values() for _, limit in found]
        latest = min([longest, *limits])
        if card.beyond_use > latest:
            yield in_card("keeps-too-long", person, card, expected=latest, found=card.beyond_use)
        if max([cavity.day for cavity in card.cavities], default=date.min) > min(card.beyond_use, latest):
            yield from _check_cavities(card, person, each)


def last_day_of_product(code: MedicineCode, request: PlanRequest) -> date | None:
    """Until when the product may be taken by its own limits; None where it has none."""
    return min(_limits(code, request), default=None)


def _limits(code: MedicineCode, request: PlanRequest) -> Iterable[date]:
    if code in request.expiries:
        yield request.expiries[code]
    if code in request.medicines:
        for rule in rules_about(request.medicines[code], request.rules):
            if rule.limit_days is not None:
                yield request.prepared_on + timedelta(days=rule.limit_days)


def _check_cavities(card: Card, person: Person, lasts: Mapping[int, _LastDays]) -> Iterable[Finding]:
    for cavity in card.cavities:
        if cavity.day > card.beyond_use:
            yield in_cavity("after-beyond-use", person, card, cavity, expected=card.beyond_use)
        for code, limit in lasts[id(cavity.contents)]:
            if cavity.day > limit:
                yield in_cavity("after-expiry", person, card, cavity, medicine=code, expected=limit)


def _last_days(contents: Iterable[Content], known: dict[MedicineCode, date | None], request: PlanRequest) -> _LastDays:
    """Each product with its last day, where it has one. `known`: those that were asked before."""
    codes = sorted({content.medicine for content in contents})
    known.update({code: last_day_of_product(code, request) for code in codes if code not in known})
    return [(code, last) for code in codes if (last := known[code])]
