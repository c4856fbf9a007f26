"""One clause becomes FHIR dosages: how often and when must agree, or nothing is made of it.

Comes in: a clause and what holds for its whole phase. Goes out: dosages, in the order of their times, and what was in doubt.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from dosewright.core.regimen.cut_short import is_cut_short
from dosewright.core.regimen.dosage import Amount, Coding, Dosage, Maximum, Range, Repeat, Span, TimeUnit, Timing, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.clauses import Clause
from dosewright.core.regimen.reading.folding import Excluded
from dosewright.core.regimen.reading.frames import Frame
from dosewright.core.regimen.reading.meaning import Doubt, Unclear
from dosewright.core.regimen.reading.moments import find_moments
from dosewright.core.regimen.reading.rates import Rate, find_rate
from dosewright.core.regimen.routes import OTHER_WAY_UNITS
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.quantity import Quantity, format_amount

__all__ = ["Made", "each_day", "make_dosages"]

_WEEK = tuple(Weekday)


@dataclass(slots=True)
class Made:
    """Dosages of one clause, doubts met on the way, and defaults supplied."""

    dosages: list[Dosage] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    assumed: list[Finding] = field(default_factory=list)


def make_dosages(clause: Clause, frame: Frame, named_days: Sequence[Weekday]) -> Made:
    """The clause's dosages. `named_days` are all days of the week that the line names, for "other days". Raises Unclear."""
    made = Made()
    whens, clocks = find_moments(clause.times)
    rate = _in_days(find_rate(clause), whens, clocks)
    if rate is not None and rate.manner == "at-most" and not (frame.wanted or clause.wanted):
        raise Unclear("read.no-frequency", clause.span)
    _agree(clause, rate, len(whens) + len(clocks), made, at_once=frame.once is not None)
    repeat = _rhythm(clause, rate, len(whens) + len(clocks), frame)
    repeat = _on_days(repeat, clause, named_days)
    repeat = _bounded(repeat, frame, clause)
    template = _template(clause, _with_words(frame, clause))
    made.dosages = [
        replace(template, timing=Timing(repeat=one) if one != Repeat() else None) for one in _at_times(repeat, whens, clocks, clause)
    ]
    return made


def _in_days(rate: Rate | None, whens: Sequence[p.When], clocks: Sequence[p.Clock]) -> Rate | None:
    """Hours beside times of day: "every 24 hours in the morning", "every 12 hours (8 am and 8 pm)" say days, where they fit together."""
    if rate is None or rate.unit is not TimeUnit.HOUR or not rate.number.exact or not (whens or clocks):
        return rate
    hours, moments = rate.number.low, len(whens) + len(clocks)
    if hours % 24 == 0 and moments == 1:
        days = Fraction(hours, 24)
        return replace(rate, number=p.Number(days, days), unit=TimeUnit.DAY, manner="every")
    minutes = sorted(clock.time.hour * 60 + clock.time.minute for clock in clocks)
    gaps = {after - before for before, after in itertools.pairwise(minutes)}
    if not whens and len(clocks) > 1 and hours * len(clocks) == 24 and gaps == {int(hours * 60)}:
        return replace(rate, number=p.Number(Fraction(1), Fraction(1)), unit=TimeUnit.DAY, manner="every")
    return rate


def _with_words(frame: Frame, clause: Clause) -> Frame:
    """What the clause says in words that no structure holds goes along as it was written."""
    said = [item.said for item in clause.times if isinstance(item, p.When)]
    said += [item.said for item in clause.rates if isinstance(item, p.Every)]
    return replace(frame, additional=(*frame.additional, *(Coding(text=words) for words in said if words)))


def _agree(clause: Clause, rate: Rate | None, moments: int, made: Made, *, at_once: bool) -> None:
    """ "twice daily at night", "once daily morning and night": how often and when must be the same count."""
    if rate is None:
        return
    if rate.a_day and not moments and not clause.days:
        made.assumed.append(Finding("read.per-day", Severity.NOTE))
    if moments and rate.times is not None and not (rate.times.exact and rate.times.low == moments):
        raise Unclear("read.contradiction", clause.span)
    several = rate.manner == "every" and rate.unit is TimeUnit.DAY and rate.number.low == 1 and not _is_one(clause.amount)
    longer = rate.unit not in (TimeUnit.DAY, TimeUnit.HOUR, TimeUnit.MINUTE)
    if moments > 1 and ((rate.loose and (rate.manner in ("daily", "a", "slash") or several)) or longer):
        made.doubts.append(Doubt("read.daily-or-each", rate.span))
    if not moments and rate.loose and rate.manner in ("a", "slash") and not _is_one(clause.amount) and not at_once:
        made.doubts.append(Doubt("read.at-once-or-in-all", clause.span))
    if rate.manner == "a" and rate.unit is TimeUnit.HOUR:
        raise Unclear("read.word", clause.span)  # "one per hour": every hour, or a slip for "before" or "for an hour"
    if rate.unit in (TimeUnit.HOUR, TimeUnit.MINUTE) and (moments or clause.days):
        raise Unclear("read.contradiction", clause.span)


def _is_one(amount: p.HowMuch) -> bool:
    return amount.number.exact and amount.number.low <= 1


def _rhythm(clause: Clause, rate: Rate | None, moments: int, frame: Frame) -> Repeat:
    """Frequency and period. Every second morning is a rhythm too."""
    strides = {item.stride for item in clause.times if isinstance(item, p.When) and item.stride}
    each_day = rate is None or (rate.unit is TimeUnit.DAY and rate.number.low in (0, 1))
    if len(strides) > 1 or (strides - {1} and rate is not None) or (strides and not each_day):
        raise Unclear("read.twice-said", clause.span)
    if rate is None:
        return _unsaid(clause, moments, frame, strides.pop() if strides else 1)
    if rate.manner == "unsaid":
        return _no_period(clause, rate, moments)
    if rate.number.low <= 0:
        raise Unclear("read.contradiction", rate.span)
    times = rate.times or p.Number(Fraction(max(moments, 1)), Fraction(max(moments, 1)))
    return _counted(times, rate, clause)


def _counted(times: p.Number, rate: Rate, clause: Clause) -> Repeat:
    if times.low.denominator != 1 or times.high.denominator != 1 or times.high < 1:
        raise Unclear("read.contradiction", clause.span)
    most = None if times.exact else int(times.high)
    longest = None if rate.number.exact else rate.number.high
    low = int(times.low) or 1
    return Repeat(
        frequency=low, frequency_max=most if most != low else None, period=rate.number.low, period_max=longest, period_unit=rate.unit
    )


def _no_period(clause: Clause, rate: Rate, moments: int) -> Repeat:
    """ "once at night", "twice on Mondays": the day is the period where something else names it."""
    assert rate.times is not None  # noqa: S101 — "unsaid" is made only of Times
    if not moments and not clause.days and not rate.a_day:
        raise Unclear("read.no-period", rate.span)
    return _counted(rate.times, replace(rate, number=p.Number(Fraction(1), Fraction(1))), clause)


def _unsaid(clause: Clause, moments: int, frame: Frame, stride: int) -> Repeat:
    if moments or clause.days:
        return Repeat(frequency=max(moments, 1), period=Fraction(stride), period_unit=TimeUnit.DAY)
    if frame.cycle_days is not None and frame.cycle_days.length is None:
        return Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY)
    single = frame.once is not None and not (isinstance(frame.once, p.Single) and frame.once.at_once)
    if single or frame.wanted or clause.wanted:
        return Repeat()
    raise Unclear("read.no-frequency", clause.span)


def _on_days(repeat: Repeat, clause: Clause, named_days: Sequence[Weekday]) -> Repeat:
    if not clause.days:
        return repeat
    match clause.days:
        case (p.OnDays() as on,):
            return _on_weekdays(repeat, on, clause)
        case (Excluded() as excluded,):
            return _on_weekdays(repeat, _left(excluded.days, excluded), clause)
        case (p.OnDays() as on, Excluded() as excluded) if not set(on.days) & set(excluded.days):
            return _on_weekdays(repeat, on, clause)
        case (p.OtherDays() as others,) if named_days:
            return _on_weekdays(repeat, _left(named_days, others), clause)
        case (p.OfMonth() as month,):
            return _on_month_days(repeat, month, clause)
    raise Unclear("read.mixed-days", clause.span)


def _left(days: Sequence[Weekday], item: p.Item) -> p.OnDays:
    left = tuple(day for day in _WEEK if day not in days)
    if not left:
        raise Unclear("read.contradiction", item.span)
    return p.OnDays(item.span, left)


def _on_weekdays(repeat: Repeat, on: p.OnDays, clause: Clause) -> Repeat:
    days = tuple(sorted(on.days, key=_WEEK.index))
    if repeat.period_unit is TimeUnit.WEEK:
        if repeat.frequency != len(days) or (repeat.period != 1 and (on.stride != 1 or len(days) > 1)):
            raise Unclear("read.contradiction", clause.span)
        return replace(repeat, day_of_week=days)
    if repeat.period_unit is not TimeUnit.DAY or repeat.period != 1:
        raise Unclear("read.contradiction", clause.span)
    if on.stride == 1:
        return replace(repeat, day_of_week=days)
    if len(days) > 1 or repeat.frequency != 1:
        raise Unclear("read.mixed-days", clause.span)
    return replace(repeat, day_of_week=days, period=Fraction(on.stride), period_unit=TimeUnit.WEEK)


def _on_month_days(repeat: Repeat, month: p.OfMonth, clause: Clause) -> Repeat:
    """Days 29 to 31 are not in every month: what is meant then is a question."""
    if max(month.days) > 28:
        raise Unclear("read.month-end", month.span)
    if repeat.period_unit is TimeUnit.MONTH and repeat.period == 1 and repeat.frequency == len(month.days):
        return replace(repeat, days_of_month=month.days, frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY)
    if repeat.period_unit is not TimeUnit.DAY or repeat.period != 1:
        raise Unclear("read.contradiction", clause.span)
    return replace(repeat, days_of_month=month.days)


def _bounded(repeat: Repeat, frame: Frame, clause: Clause) -> Repeat:
    if frame.once is not None and repeat == Repeat():
        repeat = Repeat(count=1)
    repeat = replace(repeat, bounds_duration=frame.bounds_duration, bounds_period=frame.bounds_period)
    if is_cut_short(repeat):
        raise Unclear("read.shorter-than-rhythm", clause.span)
    cycle = frame.cycle_days
    if frame.rounds is not None:
        _require_each_day(repeat, clause)
        return replace(repeat, days_of_cycle=tuple(range(1, frame.rounds.on + 1)), cycle_length=frame.rounds.on + frame.rounds.off)
    if cycle is not None and cycle.length is not None:
        _require_each_day(repeat, clause)
        if not cycle.first <= cycle.last <= cycle.length:
            raise Unclear("read.odd-cycle", cycle.span)
        return replace(repeat, days_of_cycle=tuple(range(cycle.first, cycle.last + 1)), cycle_length=cycle.length)
    return repeat


def _require_each_day(repeat: Repeat, clause: Clause) -> None:
    if repeat.period_unit is not TimeUnit.DAY or repeat.period != 1 or repeat.day_of_week or repeat.days_of_month:
        raise Unclear("read.mixed-days", clause.span)


def _at_times(repeat: Repeat, whens: Sequence[p.When], clocks: Sequence[p.Clock], clause: Clause) -> list[Repeat]:
    """Events and clock times exclude each other in one dosage (FHIR R4 tim-10), and an offset holds for all events of one: so several."""
    if not whens and not clocks:
        return [repeat]
    if repeat.period_unit is TimeUnit.DAY and repeat.period != 1:  # twice in two days would not say on which of them
        each = [replace(repeat, when=(when.code,), offset=when.offset, frequency=1) for when in whens]
        return each + [replace(repeat, time_of_day=(clock.time,), frequency=1) for clock in clocks]
    groups: dict[int | None, list[str]] = {}
    for when in whens:
        groups.setdefault(when.offset, []).append(when.code)
    made = [replace(repeat, when=tuple(codes), offset=offset, frequency=len(codes)) for offset, codes in groups.items()]
    if clocks:
        times = tuple(sorted({clock.time for clock in clocks}))
        made.append(replace(repeat, time_of_day=times, frequency=len(times)))
    if len(made) > 1 and repeat.day_of_week and repeat.period_unit is not TimeUnit.DAY:
        raise Unclear("read.mixed", clause.span)
    return [_weekly_count(one, repeat) for one in made]


def _weekly_count(one: Repeat, repeat: Repeat) -> Repeat:
    """Three times a week at night: the count is of the week, not of the night."""
    return one if repeat.period_unit is TimeUnit.DAY else replace(one, frequency=repeat.frequency)


def _template(clause: Clause, frame: Frame) -> Dosage:
    wanted = frame.wanted or clause.wanted
    return Dosage(
        sequence=frame.sequence,
        additional=frame.additional,
        as_needed=wanted,
        as_needed_for=Coding(text=frame.reason) if wanted and frame.reason else None,
        site=Coding(text=frame.site) if frame.site else None,
        route=_route(clause, frame),
        amounts=(_amount(clause.amount),),
        max_per_period=_maximum(frame, clause.amount),
    )


def _route(clause: Clause, frame: Frame) -> Coding | None:
    """As said; the verb says it too, but for what has its own verb anyway: "apply 1 patch"."""
    said = frame.route or ("" if clause.amount.unit in OTHER_WAY_UNITS else frame.verb)
    return Coding(text=said) if said else None


def _amount(amount: p.HowMuch) -> Amount:
    low, high = Quantity(amount.number.low, amount.unit), Quantity(amount.number.high, amount.unit)
    if not high.count:
        raise Unclear("read.no-quantity", amount.span)
    if "/" in format_amount(low.count) + format_amount(high.count):
        raise Unclear("read.odd-fraction", amount.span)  # a third has no decimal form: FHIR R4 cannot hold it
    if amount.number.exact:
        return Amount(quantity=low)
    return Amount(range=Range(low if low.count else None, high))


def _maximum(frame: Frame, amount: p.HowMuch) -> Maximum | None:
    if not frame.at_most:
        return None
    if len(frame.at_most) > 1:
        raise Unclear("read.twice-said", frame.at_most[1].span)
    limit = frame.at_most[0]
    if limit.value is None or limit.span_unit is None:
        raise Unclear("read.maximum-when", limit.span)
    span = Span(limit.value, limit.span_unit)
    if isinstance(limit, p.AtMostTimes):
        return Maximum(Quantity(limit.times * amount.number.high, amount.unit), span)
    if limit.most < amount.number.high and limit.unit in ("", amount.unit):
        raise Unclear("read.maximum", limit.span)
    return Maximum(Quantity(limit.most, limit.unit or amount.unit), span)


def each_day(repeat: Repeat) -> Fraction | None:
    """How many times on a day on which it is taken; None where that cannot be said."""
    if repeat.when or repeat.time_of_day:
        return Fraction(len(repeat.when) + len(repeat.time_of_day))
    if repeat.period_unit is TimeUnit.DAY and repeat.period == 1 and repeat.frequency is not None and repeat.frequency_max is None:
        return Fraction(repeat.frequency)
    if repeat.period_unit is TimeUnit.HOUR and repeat.period and repeat.period_max is None and 24 % repeat.period == 0:
        return 24 / repeat.period
    return Fraction(1) if repeat.period_unit in (TimeUnit.DAY, TimeUnit.WEEK) and repeat.frequency == 1 else None
