"""A lot is recalled, and a recall is lifted: may it be?"""

from dosewright.core.custody.reason import check_reason
from dosewright.core.supply.lots import Stock
from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_lifting", "check_recalling"]


def check_recalling(urgency: str, reason: str) -> tuple[Finding, ...]:
    """Find a recall of which nobody says how urgent it is and why. A lot may be recalled again, in other words."""
    return check_reason(reason if urgency.strip() else "")


def check_lifting(held: Stock, reason: str) -> tuple[Finding, ...]:
    """Find a lot that is not recalled, and no reason: units that were set apart come back into use by it."""
    if not held.recalled:
        where = {"medicine": held.batch.medicine, "lot": held.batch.lot}
        return (Finding("custody.not-recalled", Severity.STOP, where), *check_reason(reason))
    return check_reason(reason)
