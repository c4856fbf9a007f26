"""A course that is over before its rhythm comes round: "every 28 days for 5 days" is one dose, or a dose on each of five days.

Comes in: a recurrence. Goes out: whether it is so; then it is asked, and never said in words.
"""

from fractions import Fraction

from dosewright.core.regimen.dosage import Repeat, TimeUnit

__all__ = ["is_cut_short"]

_DAYS = {TimeUnit.DAY: 1, TimeUnit.WEEK: 7, TimeUnit.MONTH: 28, TimeUnit.YEAR: 365}


def is_cut_short(repeat: Repeat) -> bool:
    """Whether the length ends within the first round of a rhythm of more than a day, or of the week whose days are named."""
    length = repeat.bounds_duration
    if length is None or length.unit not in _DAYS or repeat.days_of_cycle or repeat.days_of_month:
        return False
    days = length.value * _DAYS[length.unit]
    if repeat.day_of_week and days < _DAYS[TimeUnit.WEEK]:
        return True
    if repeat.period is None or repeat.period_unit not in _DAYS:
        return False
    period = repeat.period * _DAYS[repeat.period_unit]
    return period > Fraction(1) and days <= period
