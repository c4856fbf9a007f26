"""Medicines that are taken once a week, ordered more often: an order's doses in, a question out. Packed or not, the question is asked.

Source: Alberta College of Pharmacy, preventing methotrexate dispensing errors: taken daily by mistake, which has killed.
"""

from collections.abc import Iterable
from datetime import timedelta
from functools import lru_cache
from itertools import pairwise

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.suitability import Rule, Rules, meant_weekly, rules_about
from dosewright.core.packing.case import Case
from dosewright.core.regimen.order import Series
from dosewright.core.units.finding import Finding

__all__ = ["check_weekly"]

_WEEK = timedelta(days=7)


def check_weekly(case: Case, series: Iterable[Series]) -> tuple[Finding, ...]:
    """A `decide` for a product meant weekly that this order gives on two days less than a week apart."""
    rule = _weekly_rule(case.medicine, case.request.rules)
    if rule is None:
        return ()
    days = sorted({day for one in series for day in one.days})
    close = next(((one, other) for one, other in pairwise(days) if other - one < _WEEK), None)
    if close is None:
        return ()
    cited = {"rule": rule.id, "source": rule.source, "dated": rule.dated}
    return (case.decide("weekly-more-often", first=close[0], second=close[1], **cited),)


@lru_cache(maxsize=16384)
def _weekly_rule(medicine: Medicine, rules: Rules) -> Rule | None:
    return meant_weekly(rules_about(medicine, rules))
