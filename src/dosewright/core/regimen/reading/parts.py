"""A row of items is cut into phases: at "then", and where amounts each carry their own length of time.

Comes in: items, each with one meaning. Goes out: one list of items a phase, and what is in doubt: an order that is not said, a frequency
carried over, a first dose. Raises Unclear where a phase that another follows has no end.
"""

import itertools
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.folding import fold
from dosewright.core.regimen.reading.meaning import Doubt, Unclear

__all__ = ["cut_parts"]


def cut_parts(items: Sequence[p.Item]) -> tuple[list[list[p.Item]], tuple[Doubt, ...]]:
    """Cut at "then". "then stop" ends the last; a stop with nothing bounded before it says too little."""
    parts: list[list[p.Item]] = [[]]
    for item in _one_day(items):
        if isinstance(item, p.Joint) and item.kind == "then":
            parts.append([])
        else:
            parts[-1].append(item)
    ordered = len(parts) > 1 and all(isinstance(item, p.Joint | p.Quiet) for item in parts[-1])  # "…, 3 at night thereafter"
    parts = _cut_after(parts)
    kept = [part for part in parts if any(not isinstance(item, p.Joint) for item in part)]
    if len(kept) > 1 and all(isinstance(item, p.StopTaking | p.Joint) for item in kept[-1]):
        kept[-2].extend(kept.pop())
    _rounds_said_apart(kept)
    _first_days(kept)
    kept, doubts = _implied(kept, ordered=ordered)
    _carry_amount(kept)
    _carry_frequency(kept, doubts)
    _bound_first(kept, doubts)
    _require_bounded(kept)
    _require_days_in_order(kept)
    return kept, tuple(doubts)


_MOMENTS = ("WAKE", "ACM", "CM", "MORN", "PCM", "ACD", "CD", "NOON", "PCD", "ACV", "CV", "EVE", "PCV", "HS")  # in the order of a day


def _one_day(items: Sequence[p.Item]) -> list[p.Item]:
    """ "1 in the morning then 2 at night": parts of one day, one later than the other, with nothing that would last; a list, not phases."""
    row = [item for item in items if not isinstance(item, p.Joint | p.Quiet | p.Reason | p.UnitAlone)]
    if not all(isinstance(item, p.HowMuch | p.When | p.Clock) for item in row) or not any(_is_then(item) for item in items):
        return list(items)
    cut = [list(part) for then, part in itertools.groupby(items, key=_is_then) if not then]
    amounts = [sum(isinstance(item, p.HowMuch) for item in part) for part in cut]
    whens = [item for item in row if isinstance(item, p.When)]
    places = [_MOMENTS.index(item.code) for item in whens if item.code in _MOMENTS and item.stride is None]
    clocks = [item.time for item in row if isinstance(item, p.Clock)]
    rising = _rises(places) and len(places) == len(whens) if whens else _rises(clocks)
    if not (whens or clocks) or not rising or (whens and clocks) or any(count != 1 for count in amounts) or len(cut) < 2:
        return list(items)
    return [p.Joint(item.span, "and") if _is_then(item) else item for item in items]


def _is_then(item: p.Item) -> bool:
    return isinstance(item, p.Joint) and item.kind == "then"


def _rises(places: Sequence[Any]) -> bool:
    return all(first < second for first, second in itertools.pairwise(places))


def _cut_after(parts: list[list[p.Item]]) -> list[list[p.Item]]:
    """ "then 2 daily after 2 weeks", "After 7 days take 2 daily": so long lasts what went before."""
    found: list[list[p.Item]] = []
    for part in parts:
        at = next((n for n, item in enumerate(part) if isinstance(item, p.After)), None)
        if at is None:
            found.append(part)
            continue
        before, after = part[:at], part[at + 1 :]
        if any(isinstance(item, p.HowMuch) for item in before) and any(isinstance(item, p.HowMuch) for item in after):
            if not isinstance(before[-1], p.Joint):
                raise Unclear("read.not-understood", part[at].span)
            found.append(before)
            before = []
        if not found:
            raise Unclear("read.not-understood", part[at].span)
        _last_so_long(found[-1], part[at])
        found.append([*before, *after])
    return found


def _last_so_long(part: list[p.Item], after: p.Item) -> None:
    assert isinstance(after, p.After)  # noqa: S101 — found as one
    said = [item for item in part if isinstance(item, p.For | p.Length)]
    if any((item.number, item.unit) != (after.number, after.unit) for item in said) or any(isinstance(i, p.Until) for i in part):
        raise Unclear("read.contradiction", after.span)
    if not said:
        part.append(p.For(after.span, after.number, after.unit))


def _rounds_said_apart(parts: list[list[p.Item]]) -> None:
    """ "for 21 days 1 tablet daily, then 7 days off": the pause belongs to the phase before it."""
    if len(parts) < 2 or not isinstance(off := _first_said(parts[1]), p.Length) or off.role != "off":
        return
    rest = [item for part in parts[1:] for item in part if not isinstance(item, p.Joint) and item is not off]
    lengths = [item for item in parts[0] if isinstance(item, p.For)]
    if len(lengths) != 1 or any(not isinstance(item, p.Again) for item in rest):
        return
    row = [item for item in parts[0] if item is not lengths[0]]
    rounds = fold([lengths[0], p.Joint(off.span, "then"), off, *rest])
    parts[:] = [[*row, *rounds]]


def _first_days(parts: list[list[p.Item]]) -> None:
    """ "die ersten 7 Tage ½, danach 1": the first days of the course, where no month is named and something follows."""
    for part in parts[:-1]:
        for at, item in enumerate(part):
            if isinstance(item, p.MonthDays) and item.days == tuple(range(1, len(item.days) + 1)) and len(item.days) > 1:
                days = Fraction(len(item.days))
                part[at] = p.For(item.span, p.Number(days, days), TimeUnit.DAY, first=True)


def _first_said(part: Sequence[p.Item]) -> p.Item | None:
    return next((item for item in part if not isinstance(item, p.Joint)), None)


def _implied(parts: list[list[p.Item]], *, ordered: bool) -> tuple[list[list[p.Item]], list[Doubt]]:
    """Phases inside a part, where its amounts each have a length of their own."""
    found, doubts = [], []
    for number, part in enumerate(parts):
        cut, doubt = _one_after_other(part, last=number == len(parts) - 1, ordered=ordered)
        found += cut
        doubts += doubt
    return found, doubts


def _one_after_other(items: list[p.Item], *, last: bool, ordered: bool) -> tuple[list[list[p.Item]], list[Doubt]]:
    """ "40 mg daily for 5 days, 30 mg daily for 5 days": meant one after the other, and not said; days 1, then 2 to 5 are said."""
    at = [n for n, item in enumerate(items) if isinstance(item, p.HowMuch)]
    if len(at) < 2:
        return [items], []
    at = _days_said_first(items, at)
    cuts = [0, *at[1:], len(items)]
    parts = [items[a:b] for a, b in itertools.pairwise(cuts)]
    if not all(_is_bounded(part) for part in parts[:-1]) or any(isinstance(i, p.Until | p.From) for i in items):
        return [items], []
    numbered = all(any(isinstance(i, p.CycleDays) for i in part) for part in parts)
    if not numbered and last and not ordered and not _is_bounded(parts[-1]):
        return [items], []
    return parts, [] if numbered or ordered else [Doubt("read.one-after-other", p.whole(items))]


def _days_said_first(items: Sequence[p.Item], amounts: list[int]) -> list[int]:
    """ "Tag 1: 2 Tabletten, Tag 2-5: 1 Tablette": each phase begins with its days."""
    days = [n for n, item in enumerate(items) if isinstance(item, p.CycleDays) and item.length is None]
    ahead = len(days) == len(amounts) and all(day < amount for day, amount in zip(days, amounts, strict=True))
    apart = ahead and all(amount < day for amount, day in zip(amounts, days[1:], strict=False))
    return days if apart and all(isinstance(item, p.Joint | p.Quiet) for item in items[: days[0]]) else amounts


def _carry_amount(parts: list[list[p.Item]]) -> None:
    """ "1 tablet three times a day for 3 days, then twice a day": the amount stays what it was."""
    for before, part in itertools.pairwise(parts):
        amounts = [item for item in before if isinstance(item, p.HowMuch)]
        said = any(isinstance(item, p.HowMuch | p.Pattern | p.Cross | p.UnitAlone | p.StopTaking | p.Wanted | p.AtMost) for item in part)
        often = any(isinstance(item, p.Firm | p.Times | p.Every) for item in part)
        if len(amounts) == 1 and often and not said and not any(isinstance(item, p.Pattern) for item in before):
            part.insert(0, amounts[0])


def _carry_frequency(parts: list[list[p.Item]], doubts: list[Doubt]) -> None:
    """ "1 tablet twice daily for 7 days then 2 tablets": as often as before, most likely."""
    for before, part in itertools.pairwise(parts):
        amounts = [item for item in part if isinstance(item, p.HowMuch)]
        often = [item for item in before if isinstance(item, p.Firm | p.Times | p.Every | p.When | p.Clock | p.OnDays)]
        said = any(isinstance(i, p.Firm | p.Times | p.Every | p.When | p.Clock | p.OnDays | p.ByMeals | p.Stat | p.CycleDays) for i in part)
        if len(amounts) == 1 and often and not said and not any(isinstance(i, p.Pattern) for i in part):
            part.extend(often)
            doubts.append(Doubt("read.frequency-carried", amounts[0].span))


def _bound_first(parts: list[list[p.Item]], doubts: list[Doubt]) -> None:
    """ "2 at once, then 1 twice daily": whether the regular doses begin on the same day is not said."""
    if len(parts) < 2 or _is_bounded(parts[0]):
        return
    once = next((item for item in parts[0] if isinstance(item, p.Stat | p.Single)), None)
    if once is None or any(isinstance(item, p.Firm | p.Times | p.Every | p.When | p.Clock) for item in parts[0]):
        return
    day = p.Number(Fraction(1), Fraction(1))
    parts[0] = [item for item in parts[0] if item is not once]
    parts[0] += [p.Firm(once.span, day, day, TimeUnit.DAY), p.For(once.span, day, TimeUnit.DAY)]
    doubts.append(Doubt("read.after-first", once.span))


def _require_bounded(parts: Sequence[Sequence[p.Item]]) -> None:
    for number, part in enumerate(parts):
        stops = [item for item in part if isinstance(item, p.StopTaking)]
        bounded = _is_bounded(part)
        if stops and (not bounded or number < len(parts) - 1 or not _ends_with(part, stops[0])):
            raise Unclear("read.stop-when", stops[0].span)
        if number < len(parts) - 1 and not bounded:
            raise Unclear("read.phase-length", p.whole(part))


def _ends_with(part: Sequence[p.Item], stop: p.Item) -> bool:
    """ "Stop. 1 tablet daily for 7 days" is no course that ends."""
    said = [item for item in part if not isinstance(item, p.Joint | p.Quiet | p.Reason | p.ReasonTail)]
    return said[-1] is stop or (said[-2:][0] is stop and isinstance(said[-1], p.For))


def _is_bounded(part: Sequence[p.Item]) -> bool:
    return any(isinstance(i, p.For | p.Until | p.Length) or (isinstance(i, p.CycleDays) and i.length is None and not i.open) for i in part)


def _require_days_in_order(parts: Sequence[Sequence[p.Item]]) -> None:
    """ "on day 1, then on days 2-5": the days named must follow on what went before, or a day would move."""
    day: Fraction | None = Fraction(1)
    for part in parts:
        named = next((item for item in part if isinstance(item, p.CycleDays) and item.length is None), None)
        if named is not None and named.first != day:
            raise Unclear("read.odd-cycle", named.span)
        if named is not None:
            day = Fraction(named.last + 1)
        else:
            length = next((item for item in part if isinstance(item, p.For | p.Length)), None)
            days = length.number.low * {TimeUnit.DAY: 1, TimeUnit.WEEK: 7}.get(length.unit, 0) if length else Fraction(0)
            day = day + days if day is not None and days else None
