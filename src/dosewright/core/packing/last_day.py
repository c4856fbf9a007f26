"""The days that bind how long products keep in a card: products and the request in, days out. Sources: profile and rules."""

from collections.abc import Iterable
from datetime import date, timedelta
from functools import lru_cache

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.suitability import Rules, limit_days, rules_about
from dosewright.core.packing.beyond_use import beyond_use
from dosewright.core.packing.request import PlanRequest

__all__ = ["last_day_of", "limits_of"]


def limits_of(medicine: Medicine, request: PlanRequest) -> tuple[date, ...]:
    """The product's own limits: the earliest lot expiry known, and so many days from packing where a rule says so."""
    expiry, days = request.expiries.get(medicine.code), _most_days(medicine, request.rules)
    by_rule = () if days is None else (request.prepared_on + timedelta(days=days),)
    return by_rule if expiry is None else (expiry, *by_rule)


@lru_cache(maxsize=16384)
def _most_days(medicine: Medicine, rules: Rules) -> int | None:
    return limit_days(rules_about(medicine, rules))


def last_day_of(medicines: Iterable[Medicine], request: PlanRequest) -> date:
    """The last day on which those products may be taken from one card."""
    longest = timedelta(days=request.profile.number("bud_max_days"))
    return beyond_use(request.prepared_on, (limit for medicine in medicines for limit in limits_of(medicine, request)), longest)
