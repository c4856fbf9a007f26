"""How often, from all that one clause says about it: "bd", "twice | daily", "once daily | 5 days a week", "twice daily | every 12 hours".

Comes in: a clause. Goes out: one `Rate`, or None where nothing is said. Raises Unclear where it is said twice and does not agree.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.clauses import Clause, RateItem
from dosewright.core.regimen.reading.folding import Excluded
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.reading_values import Place

__all__ = ["Rate", "find_rate"]

_ONE = p.Number(Fraction(1), Fraction(1))


@dataclass(frozen=True, slots=True)
class Rate:
    """So many times in a period. `loose`: only "each day" was said, not how often in it."""

    times: p.Number | None
    number: p.Number
    unit: TimeUnit
    loose: bool
    manner: str
    span: Place
    a_day: bool = False


def find_rate(clause: Clause) -> Rate | None:
    """All that is said about how often, as one."""
    same = [item for item in clause.rates if isinstance(item, p.Every) and item.manner == "same"]
    counted = [item for item in clause.rates if isinstance(item, p.Firm) and item.days]
    rest = [item for item in clause.rates if item not in same and item not in counted]
    if len(same) > 1 or len(counted) > 1:
        raise Unclear("read.twice-said", clause.span)
    if clause.days and _is_daily_then_times(rest):
        raise Unclear("read.mixed", clause.span)  # "1 daily, twice on Sundays"
    rate = _rate(rest) if rest else None
    if counted:
        rate = _on_so_many_days(rate, counted[0], clause)
    return _on_the_same_day(rate, same[0], clause) if same else rate


def _is_daily_then_times(rates: Sequence[RateItem]) -> bool:
    return len(rates) > 1 and isinstance(rates[0], p.Every) and isinstance(rates[1], p.Times)


def _on_the_same_day(rate: Rate | None, same: p.Every, clause: Clause) -> Rate:
    """ "once a week on the same day each week"; alone it is once a week."""
    if rate is None:
        return Rate(None, same.number, same.unit, loose=True, manner="every", span=same.span)
    if rate.unit is not same.unit or rate.times not in (None, _ONE):
        raise Unclear("read.contradiction", clause.span)
    return rate


def _on_so_many_days(rate: Rate | None, counted: p.Firm, clause: Clause) -> Rate:
    """ "once daily 5 days a week": 5 a week. More than once a day it needs the days by name, and then the days say it."""
    if rate is None or (_daily(rate) and rate.times in (None, _ONE)):
        return Rate(counted.times, counted.number, counted.unit, loose=False, manner="", span=counted.span)
    if _daily(rate) and counted.times.exact and counted.times.low == _named_days(clause):
        return rate
    raise Unclear("read.mixed-days", clause.span)


def _named_days(clause: Clause) -> int:
    if len(clause.days) != 1:
        return 0
    item = clause.days[0]
    return len(item.days) if isinstance(item, p.OnDays) else 7 - len(item.days) if isinstance(item, Excluded) else 0


def _daily(rate: Rate) -> bool:
    return rate.unit is TimeUnit.DAY and rate.number == _ONE


def _rate(rates: Sequence[RateItem]) -> Rate:
    """All that is said about how often, as one. Raises Unclear where it is said twice."""
    span = (min(r.span[0] for r in rates), max(r.span[1] for r in rates))
    match rates:
        case [p.Firm() as firm]:
            return Rate(firm.times, firm.number, firm.unit, loose=False, manner="", span=span)
        case [p.Every() as every]:
            return Rate(None, every.number, every.unit, loose=True, manner=every.manner, span=span)
        case [p.Times() as times]:
            return Rate(
                times.number, p.Number(Fraction(0), Fraction(0)), TimeUnit.DAY, loose=False, manner="unsaid", span=span, a_day=times.a_day
            )
        case [p.Times() as times, p.Every() as every] | [p.Every() as every, p.Times() as times]:
            return Rate(times.number, every.number, every.unit, loose=False, manner=every.manner, span=span)
    hourly = [item for item in rates if isinstance(item, p.Every) and item.unit is TimeUnit.HOUR]
    if len(hourly) == 1 and len(rates) > 1:
        return _in_step(_rate([item for item in rates if item is not hourly[0]]), hourly[0], span)
    raise Unclear("read.twice-said", span)


def _in_step(rate: Rate, hourly: p.Every, span: Place) -> Rate:
    """ "twice daily (every 12 hours)": the hours say more. "four times a day, every 8 hours" cannot be."""
    if rate.times is None or not _daily(rate) or not rate.times.exact or not hourly.number.exact:
        raise Unclear("read.twice-said", span)
    if rate.times.low * hourly.number.low != 24:
        raise Unclear("read.twice-said", span)
    return Rate(None, hourly.number, hourly.unit, loose=True, manner="every", span=span)
