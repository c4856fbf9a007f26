"""How much of an order that is given when needed may be given: at most in a time, and how far apart. From its structure, or not stated.

Comes in: an order's dosages. Goes out: words for the record, with a place to write what is not stated, and the names of what lacks.
Source: NICE SC1, managing medicines in care homes; STANDARDS of the record: as-needed lines have a maximum and a minimum interval.
"""

from collections.abc import Sequence
from fractions import Fraction

from dosewright.core.regimen.dosage import Dosage, Repeat, TimeUnit
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.quantity import Quantity, format_amount

__all__ = ["lacking_limits", "limit_words"]

_HOURS = {TimeUnit.HOUR: Fraction(1), TimeUnit.DAY: Fraction(24), TimeUnit.WEEK: Fraction(168), TimeUnit.MINUTE: Fraction(1, 60)}
MAXIMUM, INTERVAL = "the most in 24 hours", "the least time between doses"


def limit_words(dosages: Sequence[Dosage]) -> str:
    """ "At most 8 puffs in 24 hours. At least 4 hours between doses.", with blanks for what the order does not state."""
    most, apart = _most(dosages), _apart(dosages)
    return " ".join(
        (
            f"At most {most}." if most else "At most ________ in 24 hours: not stated, the prescriber says.",
            f"At least {apart} between doses." if apart else "At least ____ hours between doses: not stated, the prescriber says.",
        )
    )


def lacking_limits(dosages: Sequence[Dosage]) -> tuple[str, ...]:
    """What the order does not state, in words; nothing where both limits are there."""
    return tuple(name for name, said in ((MAXIMUM, _most(dosages)), (INTERVAL, _apart(dosages))) if not said)


def _most(dosages: Sequence[Dosage]) -> str:
    """The maximum that the order states; else what how often it may be given comes to."""
    stated = {dosage.max_per_period for dosage in dosages if dosage.max_per_period}
    if len(stated) == 1:
        (limit,) = stated
        hours = _HOURS.get(limit.span.unit)
        return f"{format_quantity(limit.quantity)} in {_hours(limit.span.value * hours)}" if hours else ""
    return "" if stated else _counted(dosages)


def _counted(dosages: Sequence[Dosage]) -> str:
    """Up to so many times a day, of so much each."""
    if len(dosages) != 1 or len(dosages[0].amounts) != 1:
        return ""
    repeat, amount = _repeat(dosages[0]), dosages[0].amounts[0]
    each = amount.quantity or (amount.range.high if amount.range else None)
    times = repeat.frequency_max or repeat.frequency
    if each is None or not times or (repeat.period, repeat.period_unit) != (Fraction(1), TimeUnit.DAY):
        return ""
    return f"{format_quantity(Quantity(each.count * times, each.unit))} in 24 hours"


def _apart(dosages: Sequence[Dosage]) -> str:
    """The shortest interval: "every 4 to 6 hours" is at least 4."""
    found = {_interval(_repeat(dosage)) for dosage in dosages}
    interval = found.pop() if len(found) == 1 else None
    return _hours(interval) if interval else ""


def _interval(repeat: Repeat) -> Fraction | None:
    unit = _HOURS.get(repeat.period_unit) if repeat.period_unit else None
    if unit is None or repeat.period is None or (repeat.frequency or 1) != 1 or repeat.frequency_max or repeat.when or repeat.day_of_week:
        return None
    hours = repeat.period * unit
    return hours if repeat.period_unit is not TimeUnit.DAY or hours else None


def _repeat(dosage: Dosage) -> Repeat:
    return (dosage.timing.repeat if dosage.timing else None) or Repeat()


def _hours(hours: Fraction) -> str:
    if hours < 1:
        return f"{format_amount(hours * 60)} minutes"
    return f"{format_amount(hours)} {'hour' if hours == 1 else 'hours'}"
