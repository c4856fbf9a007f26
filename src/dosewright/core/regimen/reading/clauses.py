"""What belongs to what: one phase's items become clauses, each an amount with its times of day and days. Every way that fits is given.

Comes in: the items of one phase, each with one meaning. Goes out: a `Phase` for each assignment of times to amounts that leaves no time
without an amount and no amount without a time. More than one: the line has more than one meaning.
"""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.folding import Excluded
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.units.quantity import Unit

__all__ = ["Clause", "Phase", "find_phases"]

_MOST_AMOUNTS = 8
_MORNING_HOURS, _NOON_HOURS = range(5, 11), range(11, 16)
_TWICE_SAID = 2

TimeItem = p.When | p.Clock
DayItem = p.OnDays | Excluded | p.OtherDays | p.OfMonth
RateItem = p.Firm | p.Times | p.Every


@dataclass(frozen=True, slots=True)
class Clause:
    """One amount and what it is tied to. `wanted` where it alone is as needed."""

    amount: p.HowMuch
    times: tuple[p.Item, ...] = ()
    days: tuple[p.Item, ...] = ()
    rates: tuple[RateItem, ...] = ()
    wanted: bool = False

    @property
    def span(self) -> Place:
        places = [item.span for item in (self.amount, *self.times, *self.days, *self.rates)]
        return min(start for start, _ in places), max(end for _, end in places)


@dataclass(frozen=True, slots=True)
class Phase:
    """Clauses that run together, and what holds for all of them, in the order of the line."""

    clauses: tuple[Clause, ...]
    shared: tuple[p.Item, ...] = field(default=())


def find_phases(items: Sequence[p.Item]) -> list[Phase]:
    """Every assignment. Raises Unclear where there is none."""
    _require_no_or(items)
    _require_nothing_added(items)
    amounts = [at for at, item in enumerate(items) if isinstance(item, p.HowMuch | p.Pattern)]
    if not amounts:
        raise Unclear("read.no-quantity", p.whole(items))
    if any(isinstance(items[at], p.Pattern) for at in amounts):
        return [_pattern_phase(items, amounts)]
    if len(amounts) == 1:
        return [_single(items, amounts[0])]
    if len(amounts) > _MOST_AMOUNTS:
        raise Unclear("read.too-many", p.whole(items))
    found = list(dict.fromkeys(_several(_without_total(items, amounts))))
    if not found:
        raise Unclear("read.no-match", p.whole(items))
    return found


def _require_no_or(items: Sequence[p.Item]) -> None:
    for item in items:
        if isinstance(item, p.Joint) and item.kind == "or":
            raise Unclear("read.or", item.span)


def _require_nothing_added(items: Sequence[p.Item]) -> None:
    """ "1+ daily" is one or more; "1 daily and at night on Sundays" is more than one of them; "8am-8pm" may be the time between."""
    for first, joint, second in zip(items, items[1:], items[2:], strict=False):
        if not isinstance(joint, p.Joint):
            continue
        more = joint.kind == "plus" and isinstance(first, p.HowMuch) and not isinstance(second, p.HowMuch)
        added = joint.kind in ("and", "plus", "but") and isinstance(first, RateItem) and isinstance(second, TimeItem | p.OnDays)
        between = joint.kind == "dash" and all(isinstance(item, p.Clock) and item.half for item in (first, second))
        if more or added or between:
            raise Unclear("read.mixed", (first.span[0], second.span[1]))


def _single(items: Sequence[p.Item], at: int) -> Phase:
    amount = items[at]
    assert isinstance(amount, p.HowMuch)  # noqa: S101 — the caller looked
    _require_whole_line_wanted(items)
    rest = [*items[:at], p.Joint(amount.span, "amount"), *items[at + 1 :]]
    times, days, rates, shared = _sorted(rest)
    return Phase((Clause(amount, times, days, rates),), shared)


def _require_whole_line_wanted(items: Sequence[p.Item]) -> None:
    """ "in the morning and when needed in the evening": the words between two times may be of the second alone."""
    times = [at for at, item in enumerate(items) if isinstance(item, TimeItem)]
    wanted = [at for at, item in enumerate(items) if isinstance(item, p.Wanted)]
    if wanted and len(times) > 1 and times[0] < wanted[0] < times[-1]:
        raise Unclear("read.scope", items[wanted[0]].span)
    if wanted and len(times) > 1 and wanted[0] > times[-1] and not all(_in_a_list(items[at]) for at in times):
        raise Unclear("read.scope", items[wanted[0]].span)


def _in_a_list(item: p.Item) -> bool:
    """ "matin et soir si besoin" is one list; "le matin et le soir si besoin" may be of the evening alone."""
    return not isinstance(item, p.When) or item.bare


def _sorted(items: Sequence[p.Item]) -> tuple[tuple[p.Item, ...], tuple[p.Item, ...], tuple[RateItem, ...], tuple[p.Item, ...]]:
    """Times of day (with the joints between them: "morning" "bedtime" side by side is not a list), days, rates, and the rest."""
    times = tuple(item for item in items if isinstance(item, TimeItem | p.Joint))
    days = tuple(item for item in items if isinstance(item, DayItem))
    rates = tuple(item for item in items if isinstance(item, RateItem))
    shared = tuple(item for item in items if not isinstance(item, TimeItem | p.Joint | DayItem | RateItem))
    return times, days, rates, shared


def _pattern_phase(items: Sequence[p.Item], amounts: Sequence[int]) -> Phase:
    """1-0-1: the places are the times of day. Any other amount or time beside it would be a second schedule."""
    pattern = next(item for item in items if isinstance(item, p.Pattern))
    rest = [item for item in items if item is not pattern]
    unit = next((item.unit for item in rest if isinstance(item, p.UnitAlone)), pattern.unit)
    rest = [item for item in rest if not isinstance(item, p.UnitAlone)]
    times, days, rates, shared = _sorted([item for item in rest if not isinstance(item, p.HowMuch)])
    if any(not isinstance(item, p.Joint) for item in times):
        raise Unclear("read.pattern", p.whole(items))
    if not unit and _looks_like_hours(pattern.counts):
        raise Unclear("read.pattern", pattern.span)
    size = _pattern_size(items, amounts, pattern, unit)
    codes = ("MORN", "NOON", "EVE", "HS")
    clauses = tuple(
        Clause(replace(size, number=_times(size.number, count)), (p.When(pattern.span, code),), days, rates)
        for code, count in zip(codes, pattern.counts, strict=False)
        if count > 0
    )
    if not clauses:
        raise Unclear("read.no-quantity", pattern.span)
    return Phase(clauses, shared)


def _looks_like_hours(counts: Sequence[Fraction]) -> bool:
    """ "8-12-6", "7-12-18": hours, or as many of them."""
    return counts[0] in _MORNING_HOURS and counts[1] in _NOON_HOURS


def _times(number: p.Number, count: Fraction) -> p.Number:
    return p.Number(number.low * count, number.high * count)


def _pattern_size(items: Sequence[p.Item], amounts: Sequence[int], pattern: p.Pattern, unit: Unit) -> p.HowMuch:
    """What one of a pattern is: "1 Tbl. 1-0-1" is in tablets, "500 mg 1-0-1" gives 500 mg each time. Any other amount is a second
    schedule.
    """
    others = [item for at in amounts if isinstance(item := items[at], p.HowMuch)]
    if not others and len(amounts) == 1:
        return p.HowMuch(pattern.span, p.Number(Fraction(1), Fraction(1)), unit)
    size = others[0] if len(amounts) == 2 and others else None
    if size is None or not size.number.exact or not size.unit or size.span > pattern.span or unit not in ("", size.unit):
        raise Unclear("read.pattern", p.whole(items))
    whole = size.number.low == 1 and size.unit not in p.MASS | {"mL"}
    if not whole and (size.unit not in p.MASS | {"mL", "drop"} or set(pattern.counts) - {0, 1}):
        raise Unclear("read.pattern", p.whole(items))
    return replace(size, span=(size.span[0], pattern.span[1]))


def _without_total(items: Sequence[p.Item], amounts: Sequence[int]) -> Sequence[p.Item]:
    """ "2 tablets daily, one in the morning and one at night": the first amount is how much in all."""
    if len(amounts) < 3 and not _counted_again(items, amounts):
        return items
    first, second = amounts[0], amounts[1]
    between = [item for item in items[first + 1 : second] if not isinstance(item, p.Joint | p.Quiet)]
    daily = (
        len(between) == 1 and isinstance(between[0], p.Every) and (between[0].unit, between[0].number.low) == (TimeUnit.DAY, Fraction(1))
    )
    if any(isinstance(item, p.Joint) and item.kind in ("stop", "newline") for item in items[first + 1 : second]):
        return items  # "2 tablets daily. 1 in the morning and 1 at night" may be more than 2
    timed_before = any(isinstance(item, TimeItem | DayItem) for item in items[:first])
    amount = items[first]
    if not daily or timed_before or not isinstance(amount, p.HowMuch):
        return items
    total = p.Total(amount.span, amount.number, amount.unit)
    return [*items[:first], total, *(item for item in items[first + 1 : second] if item is not between[0]), *items[second:]]


def _counted_again(items: Sequence[p.Item], amounts: Sequence[int]) -> bool:
    """ "300 mg daily: 100 mg three times a day"."""
    between = [item.kind for item in items[amounts[0] + 1 : amounts[1]] if isinstance(item, p.Joint)]
    if len(amounts) != _TWICE_SAID:
        return False
    often = any(isinstance(item, p.Firm | p.Times) for item in items[amounts[1] + 1 :])
    return often and bool(between) and set(between) <= {"colon", "lpar", "dash"}


def _several(items: Sequence[p.Item]) -> Iterator[Phase]:
    amounts = [at for at, item in enumerate(items) if isinstance(item, p.HowMuch)]
    if len(amounts) == 1:
        yield _single(items, amounts[0])
        return
    leading, trailing = items[: amounts[0]], items[amounts[-1] + 1 :]
    gaps = [items[a + 1 : b] for a, b in itertools.pairwise(amounts)]
    _require_loose(gaps)
    for sides in itertools.product("<>", repeat=len(gaps)):
        if any(side == ">" and not _anchors(gap) for side, gap in zip(sides, gaps, strict=True)):
            continue  # an empty gap goes left: both sides would be the same assignment
        lefts = [leading, *(gap if side == ">" else [] for side, gap in zip(sides, gaps, strict=True))]
        rights = [*(gap if side == "<" else [] for side, gap in zip(sides, gaps, strict=True)), trailing]
        yield from _assigned([items[at] for at in amounts], lefts, rights, gaps)


def _require_loose(gaps: Sequence[Sequence[p.Item]]) -> None:
    """What holds for a length of time or on demand, said between two amounts, may hold for one or for both."""
    for item in itertools.chain.from_iterable(gaps):
        if isinstance(item, p.For | p.Length | p.Until | p.From | p.Wanted | p.CycleDays | p.Rounds | p.Single | p.Stat | p.AtMost):
            raise Unclear("read.scope", item.span)


def _anchors(items: Sequence[p.Item]) -> list[p.Item]:
    return [item for item in items if isinstance(item, TimeItem | DayItem)]


def _assigned(
    amounts: Sequence[p.Item], lefts: Sequence[Sequence[p.Item]], rights: Sequence[Sequence[p.Item]], gaps: Sequence[Sequence[p.Item]]
) -> Iterator[Phase]:
    leading = lefts[0]
    if any(isinstance(item, TimeItem) for item in leading) or not _anchors(leading):
        yield from _matched(amounts, lefts, rights, gaps, over_all=())
        return
    yield from _matched(amounts, lefts, rights, gaps, over_all=())
    days = tuple(item for item in leading if isinstance(item, DayItem))
    rest = [item for item in leading if not isinstance(item, DayItem)]
    yield from _matched(amounts, [rest, *lefts[1:]], rights, gaps, over_all=days)


def _matched(
    amounts: Sequence[p.Item],
    lefts: Sequence[Sequence[p.Item]],
    rights: Sequence[Sequence[p.Item]],
    gaps: Sequence[Sequence[p.Item]],
    over_all: tuple[p.Item, ...],
) -> Iterator[Phase]:
    clauses: list[Clause] = []
    for at, (amount, left, right) in enumerate(zip(amounts, lefts, rights, strict=True)):
        if bool(_anchors(left)) == bool(_anchors(right)):
            return
        own = [*left, *right]
        own = [item for item in own if at not in (0, len(amounts) - 1) or isinstance(item, TimeItem | p.Joint | DayItem | RateItem)]
        times, days, rates, _ = _sorted(own)
        assert isinstance(amount, p.HowMuch)  # noqa: S101 — the caller looked
        clauses.append(Clause(amount, times, (*over_all, *days), rates))
    shared = [item for items in (lefts[0], *gaps, rights[-1]) for item in items if _is_shared(item)]
    yield from _scoped(clauses, tuple(shared))


def _is_shared(item: p.Item) -> bool:
    return not isinstance(item, TimeItem | p.Joint | DayItem | RateItem)


def _scoped(clauses: Sequence[Clause], shared: tuple[p.Item, ...]) -> Iterator[Phase]:
    """Days said with one clause only may hold for all of them; so may "as needed" at the end."""
    clauses = _shared_rates(clauses)
    with_days = [clause for clause in clauses if clause.days]
    rows = [tuple(clauses)]
    if len(with_days) == 1 and not isinstance(with_days[0].days[0], p.OtherDays) and all(clause.times for clause in clauses):
        rows.append(tuple(replace(clause, days=with_days[0].days) for clause in clauses))
    elif with_days and len(with_days) < len(clauses):
        raise Unclear("read.scope", with_days[0].span)
    for row in rows:
        yield Phase(row, shared)
        if any(isinstance(item, p.Wanted) and item.span > clauses[-1].amount.span for item in shared):
            rest = tuple(item for item in shared if not isinstance(item, p.Wanted | p.Reason))
            yield Phase((*row[:-1], replace(row[-1], wanted=True)), rest)


def _shared_rates(clauses: Sequence[Clause]) -> list[Clause]:
    """ "every day", said once, holds for all; anything else said of one clause alone is a mixture that needs a person."""
    said = [rate for clause in clauses for rate in clause.rates]
    if not said:
        return list(clauses)
    if len(said) == len(clauses) and all(len(clause.rates) == 1 and _daily(clause.rates[0]) for clause in clauses):
        return list(clauses)
    if all(clause.rates and clause.days for clause in clauses):
        return list(clauses)  # "1 twice daily on weekdays and 1 once daily at weekends"
    leading = clauses[0].rates and clauses[0].rates[0].span < clauses[0].amount.span
    if len(said) == 1 and (_daily(said[0]) or (leading and isinstance(said[0], p.Every))):
        return [replace(clause, rates=(said[0],)) for clause in clauses]
    raise Unclear("read.mixed", said[0].span)


def _daily(rate: RateItem) -> bool:
    match rate:
        case p.Every() | p.Firm():
            return rate.unit is TimeUnit.DAY and rate.number.low == 1 and (isinstance(rate, p.Every) or rate.times.low == 1)
    return False
