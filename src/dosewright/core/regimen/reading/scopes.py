"""Days, rhythms, lengths and "as needed" that may hold for one time of day or for all: "in the morning, on Mondays at night".

Comes in: the phrases of a line in their order, before any is joined. Goes out: a doubt for each. What is said before all times of day, or
after a list of them, holds for all. Source: common practice, no source; found by looking at some 15,000 readings.
"""

import itertools
from collections.abc import Iterator, Sequence
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.line_parts import (
    ADDED,
    AMOUNT,
    MOMENT,
    SENTENCE,
    is_bound,
    is_days,
    is_rhythm,
    joints_between,
    moments_in,
    parts_of,
)
from dosewright.core.regimen.reading.meaning import Doubt, asked_once
from dosewright.core.regimen.reading.moments import same_part
from dosewright.core.regimen.reading.rows import is_joint

__all__ = ["find_scopes"]

_MOST_DAYS = 5
_EVENING = frozenset({"EVE", "CV", "ACV", "PCV"})
_ALL_FOUR = frozenset({"MORN", "NOON", "EVE", "HS"})


def find_scopes(items: Sequence[p.Item]) -> tuple[Doubt, ...]:
    """All doubts about what a phrase holds for, in the order of the rules."""
    rules = (
        _days_of_one_time,
        _added_days,
        _exceptions,
        _lengths,
        _sentences,
        _wanted,
        _evening_or_bedtime,
        _single_dose,
        _also,
        _weeks,
        _days_a_month,
    )
    return asked_once("read.scope", [doubt for rule in rules for doubt in rule(items)])


def _unlike(part: Sequence[p.Item]) -> list[int]:
    """Where the times of day stand, if they are at least two different ones."""
    places = moments_in(part)
    alike = all(same_part(part[a], part[b]) for a, b in itertools.pairwise(places))
    return [] if alike else places


def _days_of_one_time(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "in the morning, on Mondays at night", "mornings and alternate nights", "in the morning every other day, at night"."""
    for part in parts_of(items):
        places = _unlike(part)
        strides = {item.stride or 1 for item in part if isinstance(item, p.When)}
        if places and len(strides) > 1:
            yield Doubt("read.scope", (part[places[0]].span[0], part[places[-1]].span[1]))
        for at, item in enumerate(part):
            if places and (is_days(item) or is_rhythm(item)) and not _holds_for_all(part, places, at):
                yield Doubt("read.scope", item.span)


def _holds_for_all(part: Sequence[p.Item], places: Sequence[int], at: int) -> bool:
    """Said before a list, or right after one that "and" closes."""
    between = set().union(*(joints_between(part, a, b) for a, b in itertools.pairwise(places)))
    if at < places[0]:
        return not between & SENTENCE
    closed = joints_between(part, places[-2], places[-1]) <= {"and", "plus", "comma"} and not between & SENTENCE
    if "and" not in between and "plus" not in between:
        closed = closed and "comma" not in joints_between(part, places[-2], places[-1])
    return at > places[-1] and closed


def _added_days(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "Monday and evening", "in the morning and every other day", "daily, Mondays at night"."""
    for part in parts_of(items):
        for before, joint, after in zip(part, part[1:], part[2:], strict=False):
            time_and_days = isinstance(before, MOMENT) and is_days(after)
            days_and_time = is_days(before) and isinstance(after, MOMENT)
            rhythm = (isinstance(before, MOMENT) and is_rhythm(after)) or (is_days(before) and isinstance(after, p.Every))
            if is_joint(joint, ADDED) and (time_and_days or days_and_time or rhythm):
                yield Doubt("read.scope", (before.span[0], after.span[1]))
            daily = (isinstance(before, p.Firm) or (isinstance(before, p.Every) and not is_rhythm(before))) and is_days(after)
            few = isinstance(after, p.OnDays) and len(after.days) < _MOST_DAYS  # "daily, Monday to Friday" says which
            if is_joint(joint, {"comma", "stop", "newline", "semi", "dash"}) and daily and few:
                yield Doubt("read.scope", (before.span[0], after.span[1]))
        for before, after in itertools.pairwise(part):
            every_week = isinstance(after, p.Every) and after.unit is TimeUnit.WEEK and after.number.low > 1 and after.manner != "about"
            if isinstance(before, MOMENT) and every_week and not any(is_days(item) for item in part):
                yield Doubt("read.scope", (before.span[0], after.span[1]))  # once in two weeks, or each night of one in two


def _exceptions(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "morning and night except Sunday night": the last words may be the time that is left out."""
    moments = sum(isinstance(item, MOMENT) for item in items)
    for at, item in enumerate(items):
        if not isinstance(item, p.Except) or moments < 2:
            continue
        end = at + 1
        while end < len(items) and (is_days(items[end]) or is_joint(items[end], {"and", "plus", "comma"})):
            end += 1
        if end < len(items) and isinstance(items[end], MOMENT) and is_days(items[end - 1]):
            yield Doubt("read.scope", (item.span[0], items[end].span[1]))


def _lengths(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "in the morning for 5 days, at night"."""
    for part in parts_of(items):
        places = _unlike(part)
        if not places:
            continue
        apart = any(joints_between(part, a, b) & SENTENCE for a, b in itertools.pairwise(places))
        for at, item in enumerate(part):
            within = places[0] < at < places[-1]
            if is_bound(item) and (within or (apart and at > places[-1])):
                yield Doubt("read.scope", item.span)


def _sentences(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 in the morning. 2 at night for 5 days": a length or a condition in one of two sentences that are no steps of one course."""
    sentences: list[list[p.Item]] = [[]]
    for item in items:
        if is_joint(item, {"stop", "newline", "semi"}):
            sentences.append([])
        elif is_joint(item, {"then"}):
            return
        else:
            sentences[-1].append(item)
    dosed = [one for one in sentences if any(isinstance(item, AMOUNT) for item in one)]
    held = [next((item for item in one if is_bound(item)), None) for one in dosed]
    timed = all(any(isinstance(item, MOMENT | p.Pattern) for item in one) for one in dosed)
    if len(dosed) > 1 and timed and None in held:
        yield from (Doubt("read.scope", item.span) for item in held if item is not None)
    leading = [one[0] for one in dosed[:-1] if isinstance(one[0], p.Wanted)]
    yield from (Doubt("read.scope", item.span) for item in leading)


def _wanted(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "bd and prn", "morning, night prn": part of it may be regular."""
    for before, after in itertools.pairwise(items):
        if is_joint(before, ADDED) and isinstance(after, p.Wanted):
            yield Doubt("read.scope", after.span)
    for before, joint, after in zip(items, items[1:], items[2:], strict=False):
        if isinstance(before, p.Wanted) and is_joint(joint, ADDED) and not isinstance(after, p.ReasonTail | p.Reason):
            yield Doubt("read.scope", before.span)
    amounts = [at for at, item in enumerate(items) if isinstance(item, p.HowMuch)]
    if items and isinstance(items[0], p.Wanted) and len(amounts) > 1 and not joints_between(items, amounts[-2], amounts[-1]) & ADDED:
        yield Doubt("read.scope", items[0].span)
    for part in parts_of(items):
        places = _unlike(part)
        listed = joints_between(part, places[-2], places[-1]) if places else set()
        for item in part[places[-1] + 1 :] if places else ():
            if isinstance(item, p.Wanted) and listed and not listed & ADDED:
                yield Doubt("read.scope", item.span)


def _evening_or_bedtime(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "in the evening, at bedtime" may be one time; so may "with lunch in the morning" be none. Only a list says two."""
    for part in parts_of(items):
        places = moments_in(part)
        named = {item.code for item in part if isinstance(item, p.When)}
        for a, b in itertools.pairwise(places):
            first, second = part[a], part[b]
            if not isinstance(first, p.When) or not isinstance(second, p.When):
                continue
            joints = joints_between(part, a, b)
            late = first.code in _EVENING and second.code == "HS" and not joints & (ADDED | {"or"}) and not named >= _ALL_FOUR
            one = late and not joints and first.code == "EVE" and not second.bare  # "in the evening at bedtime"
            meal = b == a + 1 and not second.bare and second.code[-1:] in "MDV" and len(second.code) in (2, 3)
            if (late and not one) or (meal and second.code not in ("WAKE", "MORN") and not same_part(first, second)):
                yield Doubt("read.one-or-two", (first.span[0], second.span[1]))


def _single_dose(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "3 tablets as a single dose for 3 days", "1 now and on Mondays": once, or each of those days."""
    if sum(isinstance(item, AMOUNT) for item in items) != 1:
        return
    if any(isinstance(item, p.Every | p.Firm | p.Times) or (isinstance(item, p.When) and item.stride) for item in items):
        return  # "as a single dose each morning"
    longer = any(is_bound(item) for item in items)
    days = any(is_days(item) for item in items)
    for item in items:
        single = isinstance(item, p.Single) and not item.at_once
        if (single or isinstance(item, p.Stat)) and (longer or days):
            yield Doubt("read.once-or-each", item.span)


def _also(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "daily, also on Sundays", "then also at night": what is said before may go on."""
    begun = False
    for at, item in enumerate(items):
        begun = begun or is_joint(item, {"then"})
        if begun and is_joint(item, ADDED) and is_joint(items[at - 1], {"then"}):
            yield Doubt("read.scope", item.span)
        if isinstance(item, p.Quiet) and item.role == "added":
            after = next((one for one in items[at + 1 :] if not isinstance(one, p.Joint | p.Quiet)), None)
            if begun or not isinstance(after, AMOUNT | MOMENT):
                yield Doubt("read.scope", item.span)


def _weeks(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "10 mg in week 1, 15 mg in week 2, then 20 mg weekly": how often in that week is not said."""
    rates = [item for item in items if isinstance(item, p.Every | p.Firm | p.Times)]
    daily = bool(rates) and not any(is_rhythm(item) for item in rates)
    parts = parts_of(items)
    for part, following in zip(parts, [*parts[1:], []], strict=True):
        beside = [*part, *(() if any(isinstance(item, p.CycleDays) for item in following) and part is not parts[0] else following)]
        often = any(isinstance(item, MOMENT | p.Every | p.Firm | p.Times | p.OnDays) for item in beside)
        for item in part:
            if isinstance(item, p.CycleDays) and item.weeks and not often and not daily and not _is_pattern(items):
                yield Doubt("read.no-frequency", item.span)


def _is_pattern(items: Sequence[p.Item]) -> bool:
    return any(isinstance(item, p.Pattern) for item in items)


def _days_a_month(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "twice monthly on the 1st and 15th": so often in the month, not on each of those days."""
    often = [item for item in items if isinstance(item, p.Firm | p.Times) and _count(item) > 1]
    if any(isinstance(item, p.MonthDays) for item in items) and not any(isinstance(item, p.EachMonth) for item in items):
        yield from (Doubt("read.scope", item.span) for item in often)
    for first, joint, second in zip(items, items[1:], items[2:], strict=False):
        if is_joint(joint, {"or"}) and all(isinstance(item, p.MonthDays | p.OfMonth | p.CycleDays) for item in (first, second)):
            yield Doubt("read.or", (first.span[0], second.span[1]))


def _count(item: p.Firm | p.Times) -> Fraction:
    return (item.times if isinstance(item, p.Firm) else item.number).high
