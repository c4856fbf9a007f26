"""What a repeat means: a rule of days and the dosing times on each of them.

Comes in: one repeat (codes resolved) and a timetable. Goes out: a `Rhythm`, or every reason why the repeat has no single meaning.
Statements that FHIR lets stand side by side (`frequency` beside `dayOfWeek`, `when`, `timeOfDay`) must agree in number; where they do not,
a person decides. Source: HL7 FHIR R4 (4.0.1) Timing, with its table of common timings, which uses them together.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import time
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from operator import attrgetter

from dosewright.core.regimen.dosage import Repeat, TimeUnit
from dosewright.core.regimen.expansion import assume, decide
from dosewright.core.regimen.recurrence import DayRule, EveryDays, EveryMonths, OnCycleDays, OnMonthDays, OnWeekdays
from dosewright.core.regimen.slots import Chosen, choose_often, choose_stated
from dosewright.core.units.dosing_time import DosingTime, Timetable
from dosewright.core.units.finding import Finding

__all__ = ["Rhythm", "find_rhythm"]


@dataclass(frozen=True, slots=True)
class Rhythm:
    """Each day of `rule`, at each of `slots` (in order of the clock)."""

    rule: DayRule
    slots: tuple[DosingTime, ...]
    assumed: tuple[Finding, ...] = ()


def find_rhythm(repeat: Repeat, timetable: Timetable) -> Rhythm | tuple[Finding, ...]:
    """The one meaning of the repeat, its bounds left aside; or the findings that stand in its way, all of them."""
    return _find(_RHYTHMIC(repeat), timetable)


# Everything of a repeat but its bounds and count: orders differ in those, and share a few dozen rhythms.
_NAMES = tuple(one.name for one in fields(Repeat) if not one.name.startswith("bounds_") and one.name != "count")
_RHYTHMIC = attrgetter(*_NAMES)


@lru_cache(maxsize=4096)
def _find(rhythmic: tuple[object, ...], timetable: Timetable) -> Rhythm | tuple[Finding, ...]:
    repeat = Repeat(**dict(zip(_NAMES, rhythmic, strict=True)))  # type: ignore[arg-type]
    open_points = (*_check_ranges(repeat), *_check_listed(repeat))
    chosen = choose_stated(repeat, timetable)
    if isinstance(chosen, Finding):
        open_points = (*open_points, chosen)
    if open_points or isinstance(chosen, Finding):
        return open_points
    found = _by_period(repeat)(repeat, chosen, timetable)
    return (found,) if isinstance(found, Finding) else found


_Reader = Callable[[Repeat, Chosen | None, Timetable], Rhythm | Finding]


def _check_ranges(repeat: Repeat) -> tuple[Finding, ...]:
    """A range is a choice, and a duration is how long one dose takes to give: neither belongs into a card."""
    found = [
        decide("timing.range", element=name)
        for name, low, high in (
            ("frequency", repeat.frequency, repeat.frequency_max),
            ("period", repeat.period, repeat.period_max),
        )
        if high is not None and high != low
    ]
    if repeat.duration is not None or repeat.duration_max is not None or repeat.duration_unit is not None:
        found.append(decide("timing.duration-of-a-dose"))
    return tuple(found)


def _check_listed(repeat: Repeat) -> tuple[Finding, ...]:
    """A value that stands twice may be a slip for another; days of the week, of the month and of a cycle do not mix."""
    lists: dict[str, tuple[object, ...]] = {
        "dayOfWeek": repeat.day_of_week,
        "timeOfDay": repeat.time_of_day,
        "when": repeat.when,
        "timing-daysOfCycle": repeat.days_of_cycle,
        "timing-dayOfMonth": repeat.days_of_month,
    }
    found = [decide("timing.listed-twice", element=name) for name, values in lists.items() if len(set(values)) < len(values)]
    if sum(bool(days) for days in (repeat.day_of_week, repeat.days_of_cycle, repeat.days_of_month)) > 1:
        found.append(decide("timing.days-said-twice"))
    if not all(1 <= day <= 31 for day in repeat.days_of_month):
        found.append(decide("timing.no-such-day", element="timing-dayOfMonth"))
    if repeat.cycle_length is not None and not (repeat.days_of_cycle and repeat.cycle_length <= _LONGEST_PERIOD):
        found.append(decide("timing.cycle-length-missing"))
    elif repeat.cycle_length is not None and not all(1 <= day <= repeat.cycle_length for day in repeat.days_of_cycle):
        found.append(decide("timing.no-such-day", element="timing-daysOfCycle"))
    return tuple(found)


def _by_period(repeat: Repeat) -> _Reader:
    match repeat.period_unit:
        case _ if repeat.period is None:
            return _read_without_period
        case TimeUnit.SECOND | TimeUnit.MINUTE | TimeUnit.HOUR:
            return _read_interval
        case TimeUnit.MONTH | TimeUnit.YEAR:
            return _read_months
    return _read_days


def _read_without_period(repeat: Repeat, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    if repeat.frequency is not None or repeat.period_unit is not None:
        return decide("timing.period-missing")
    if chosen is None and not _lists_days(repeat):
        return decide("timing.says-no-rhythm")
    if repeat.days_of_cycle and repeat.cycle_length is None:
        return decide("timing.cycle-length-missing")
    return _on_each(_listed_rule(repeat), None, chosen, timetable)


def _read_days(repeat: Repeat, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    days = (repeat.period or Fraction(0)) * (7 if repeat.period_unit is TimeUnit.WEEK else 1)
    if days.denominator != 1 or days < 1 or days > _LONGEST_PERIOD:
        return decide("timing.period-unusable", period=repeat.period, unit=str(repeat.period_unit))
    if days == 1:
        return _read_daily(repeat, chosen, timetable)
    if repeat.days_of_cycle:
        return _read_cycle(repeat, int(days), chosen, timetable)
    if repeat.day_of_week and days % 7 == 0:
        rule = OnWeekdays(_weekdays(repeat), int(days) // 7)
        return _spread(rule, len(repeat.day_of_week), repeat.frequency, chosen, timetable)
    if _lists_days(repeat):
        return decide("timing.days-against-period")
    return _spread(EveryDays(int(days)), 1, repeat.frequency, chosen, timetable)


_LONGEST_PERIOD = 3660  # days; ten years, longer than any regular medicine's rhythm


def _read_daily(repeat: Repeat, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    """Each day, or each of the days listed: "Mon, Wed, Fri in the morning" stands in the standard's table as once a day on those days."""
    if repeat.days_of_cycle and repeat.cycle_length is None:
        return decide("timing.cycle-length-missing")
    if repeat.frequency is None and chosen is None:
        return decide("timing.frequency-missing")
    return _on_each(_listed_rule(repeat), repeat.frequency, chosen, timetable)


def _read_cycle(repeat: Repeat, length: int, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    if repeat.cycle_length not in (None, length) or max(repeat.days_of_cycle) > length or min(repeat.days_of_cycle) < 1:
        return decide("timing.no-such-day", element="timing-daysOfCycle")
    rule = OnCycleDays(tuple(sorted(repeat.days_of_cycle)), length)
    return _spread(rule, len(rule.days), repeat.frequency, chosen, timetable)


def _read_months(repeat: Repeat, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    months = (repeat.period or Fraction(0)) * (12 if repeat.period_unit is TimeUnit.YEAR else 1)
    if months.denominator != 1 or months < 1 or months > _LONGEST_PERIOD:
        return decide("timing.period-unusable", period=repeat.period, unit=str(repeat.period_unit))
    if repeat.day_of_week or repeat.days_of_cycle:
        return decide("timing.days-against-period")
    if repeat.days_of_month:
        rule = OnMonthDays(tuple(sorted(repeat.days_of_month)), int(months))
        return _spread(rule, len(rule.days), repeat.frequency, chosen, timetable)
    return _spread(EveryMonths(int(months)), 1, repeat.frequency, chosen, timetable)


def _read_interval(repeat: Repeat, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    """An interval of hours holds only where the dosing times lie exactly so far apart, round the clock."""
    minutes = (repeat.period or Fraction(0)) * _MINUTES[_unit(repeat)]
    if repeat.frequency not in (None, 1) or minutes <= 0 or _lists_days(repeat):
        return decide("timing.interval-unclear")
    if minutes % _DAY == 0:
        return _read_whole_days(int(minutes // _DAY), chosen, timetable)
    spaced = _evenly_spaced(minutes, timetable) if chosen is None else [chosen.slots]
    fitting = [slots for slots in spaced if _is_even(slots, minutes)]
    if len(fitting) != 1:
        return decide("timing.interval-fits-no-dosing-times", period=repeat.period, unit=str(repeat.period_unit))
    if chosen is not None:
        return Rhythm(EveryDays(1), chosen.slots, chosen.assumed)
    names = tuple(slot.name for slot in fitting[0])
    return Rhythm(EveryDays(1), fitting[0], (assume("time-of-day", times=len(names), slots=names),))


_DAY = 24 * 60  # minutes
_MINUTES = {TimeUnit.SECOND: Fraction(1, 60), TimeUnit.MINUTE: Fraction(1), TimeUnit.HOUR: Fraction(60)}


def _read_whole_days(days: int, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    if days > _LONGEST_PERIOD:
        return decide("timing.period-unusable", period=Fraction(days), unit="d")
    return _spread(EveryDays(days), 1, 1, chosen, timetable)


def _unit(repeat: Repeat) -> TimeUnit:
    return repeat.period_unit or TimeUnit.HOUR


def _evenly_spaced(minutes: Fraction, timetable: Timetable) -> list[tuple[DosingTime, ...]]:
    """Every choice of dosing times in which each follows the one before after so many minutes, from the first of the day on."""
    if _DAY % minutes:
        return []
    step, times = int(minutes) if minutes.denominator == 1 else 0, int(_DAY / minutes)
    if step == 0 or times > len(timetable.slots):
        return []
    at = {_minute_of(slot.time): slot for slot in timetable.slots}
    starts = [minute for minute in sorted(at) if minute < step]
    wanted = [[start + step * place for place in range(times)] for start in starts]
    return [tuple(at[minute] for minute in row) for row in wanted if all(minute in at for minute in row)]


def _is_even(slots: tuple[DosingTime, ...], minutes: Fraction) -> bool:
    clock = [_minute_of(slot.time) for slot in slots]
    return len(clock) * minutes == _DAY and all(later - sooner == minutes for sooner, later in pairwise(clock))


def _minute_of(clock: time) -> Fraction:
    return Fraction(clock.hour * 3600 + clock.minute * 60 + clock.second, 60)


def _lists_days(repeat: Repeat) -> bool:
    return bool(repeat.day_of_week or repeat.days_of_month or repeat.days_of_cycle)


def _listed_rule(repeat: Repeat) -> DayRule:
    if repeat.day_of_week:
        return OnWeekdays(_weekdays(repeat))
    if repeat.days_of_month:
        return OnMonthDays(tuple(sorted(repeat.days_of_month)))
    if repeat.days_of_cycle and repeat.cycle_length is not None:
        return OnCycleDays(tuple(sorted(repeat.days_of_cycle)), repeat.cycle_length)
    return EveryDays(1)


def _weekdays(repeat: Repeat) -> tuple[int, ...]:
    return tuple(sorted(day.number for day in repeat.day_of_week))


def _spread(rule: DayRule, days: int, frequency: int | None, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    """`frequency` counts over a whole period of `rule`, which has so many days: the same number must fall on each of them. Where the days
    are not listed, twice in a week or in two days says nothing about how the doses are spread."""
    unlisted = isinstance(rule, EveryDays | EveryMonths) and rule != EveryDays(1)
    if frequency is None:
        return decide("timing.frequency-missing") if unlisted and chosen is None else _on_each(rule, None, chosen, timetable)
    stated = days * len(chosen.slots) if chosen else days
    if unlisted and frequency > 1:
        return decide("timing.days-not-said", frequency=frequency)
    if frequency % days or (chosen is None and frequency != days):
        return decide("timing.often-differs", frequency=frequency, stated=stated)
    return _on_each(rule, frequency // days, chosen, timetable)


def _on_each(rule: DayRule, times: int | None, chosen: Chosen | None, timetable: Timetable) -> Rhythm | Finding:
    """So many times on each day of the rule; with dosing times stated, as many as those, and no fewer meals than all three."""
    if chosen is None:
        often = choose_often(times or 1, timetable)
        return often if isinstance(often, Finding) else Rhythm(rule, often.slots, often.assumed)
    if times is None and chosen.every_meal:
        return decide("timing.which-meals")
    if times not in (None, len(chosen.slots)):
        return decide("timing.often-differs", frequency=times, stated=len(chosen.slots))
    return Rhythm(rule, chosen.slots, chosen.assumed)
