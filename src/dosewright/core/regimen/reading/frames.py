"""What holds for every clause of a phase: how long, from when, on demand, at most, beside which instructions.

Comes in: a phase and its place in the line. Goes out: its `Frame`, and what is in doubt. What no rule takes up raises Unclear.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from typing import TypeVar

from dosewright.core.regimen.dosage import Coding, Period, Span, TimeUnit, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.clauses import Clause, Phase
from dosewright.core.regimen.reading.meaning import Doubt, Unclear
from dosewright.core.regimen.routes import OTHER_WAY_VERBS

__all__ = ["Frame", "Place", "find_frame"]

_T = TypeVar("_T", bound=p.Item)


@dataclass(frozen=True, slots=True)
class Place:
    """Which phase of how many; and all days of the week that the line names."""

    number: int
    count: int
    named: tuple[Weekday, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """What holds for every clause of a phase."""

    bounds_duration: Span | None = None
    bounds_period: Period | None = None
    rounds: p.Rounds | None = None
    cycle_days: p.CycleDays | None = None
    wanted: bool = False
    reason: str = ""
    at_most: tuple[p.AtMost | p.AtMostTimes, ...] = ()
    once: p.Item | None = None
    additional: tuple[Coding, ...] = ()
    route: str = ""
    verb: str = ""  # where it says another way than by mouth
    site: str = ""
    sequence: int | None = None


def find_frame(phase: Phase, place: Place) -> tuple[Frame, tuple[Doubt, ...]]:
    """Raises Unclear where something is said twice, or holds together with nothing else that is said."""
    shared = phase.shared
    _require_known(shared)
    _require_sequel(shared, place)
    once, doubts = _once(phase)
    rounds = _only([item for item in shared if isinstance(item, p.Rounds)])
    if rounds is not None and not rounds.again:
        doubts += (Doubt("read.cycle-again", rounds.span, {"on": rounds.on, "off": rounds.off}),)
    duration, period = _bounds(shared, place)
    frame = Frame(
        bounds_duration=duration,
        bounds_period=period,
        rounds=rounds,
        cycle_days=_cycle_days(shared),
        at_most=tuple(item for item in shared if isinstance(item, p.AtMost | p.AtMostTimes)),
        once=once,
        sequence=place.number + 1 if place.count > 1 else None,
    )
    return _on_demand(_beside(frame, shared), phase), doubts


def _require_sequel(shared: Sequence[p.Item], place: Place) -> None:
    """ "for the first 5 days", "start with" need something after it."""
    for item in shared:
        if isinstance(item, p.For) and item.first and place.number == place.count - 1:
            raise Unclear("read.and-then", item.span)
        if isinstance(item, p.Quiet) and item.kind == "startwith" and place.count == 1:
            raise Unclear("read.step", item.span)


def _once(phase: Phase) -> tuple[p.Item | None, tuple[Doubt, ...]]:
    """One dose in all. Beside how often or when, it may be meant of each time."""
    once = _only([item for item in phase.shared if isinstance(item, p.Stat | p.Single)])
    if once is None or not any(clause.rates or _timed(clause.times) for clause in phase.clauses):
        return once, ()
    if isinstance(once, p.Stat):
        raise Unclear("read.after-first", once.span)
    if isinstance(once, p.Single) and once.at_once:
        return once, ()
    only = isinstance(once, p.Single) and once.only
    repeated = not only and all(_once_each_day(clause) for clause in phase.clauses)
    return once, () if repeated else (Doubt("read.once-or-each", once.span),)


def _cycle_days(shared: Sequence[p.Item]) -> p.CycleDays | None:
    return _only([item for item in shared if isinstance(item, p.CycleDays)])


def _beside(frame: Frame, shared: Sequence[p.Item]) -> Frame:
    """Instructions and reasons, word for word; by which way."""
    wanted = any(isinstance(item, p.Wanted) for item in shared)
    texts = [_instruction(item) for item in shared]
    texts += [item.whole for item in shared if isinstance(item, p.Reason) and not wanted]
    return replace(
        frame,
        additional=tuple(Coding(text=text) for text in dict.fromkeys(texts) if text),
        route=_first_of("route", shared),
        verb=next((verb for item in shared if (verb := _verb_of_another_way(item))), ""),
        site=_first_of("site", shared),
    )


def _verb_of_another_way(item: p.Item) -> str:
    """ "insert 1 tablet", "inhale 1 capsule"; "" for any other item."""
    said = item.text if isinstance(item, p.Quiet) and item.kind == "verb" else ""
    return said if said.casefold() in OTHER_WAY_VERBS else ""


def _first_of(kind: str, shared: Sequence[p.Item]) -> str:
    return next((item.text for item in shared if isinstance(item, p.Quiet) and item.kind == kind), "")


def _on_demand(frame: Frame, phase: Phase) -> Frame:
    """As needed, with its reasons. "in case of pain" beside a time of day is a condition, not a reason."""
    wanted = _only([item for item in phase.shared if isinstance(item, p.Wanted)])
    if wanted is None:
        return frame
    if wanted.conditional and any(_timed(clause.times) or clause.days for clause in phase.clauses):
        raise Unclear("read.condition", wanted.span)
    reasons = (wanted.reason, *(item.text for item in phase.shared if isinstance(item, p.Reason)))
    return replace(frame, wanted=True, reason=" and ".join(reason for reason in reasons if reason))


def _timed(times: Sequence[p.Item]) -> bool:
    return any(not isinstance(item, p.Joint) for item in times)


def _once_each_day(clause: Clause) -> bool:
    """It comes again, one dose at a time: "each morning", "daily"."""
    stride = any(isinstance(item, p.When) and item.stride for item in clause.times)
    often = [r.times if isinstance(r, p.Firm) else r.number for r in clause.rates if isinstance(r, p.Firm | p.Times)]
    return (stride or bool(clause.rates)) and all(number.high == 1 for number in often)


def _instruction(item: p.Item) -> str:
    if isinstance(item, p.ByMeals | p.Apart):
        return item.text
    return item.text if isinstance(item, p.Quiet) and item.kind == "instr" else ""


_KNOWN = (
    p.For, p.Until, p.From, p.Length, p.CycleDays, p.Rounds, p.Wanted, p.Reason, p.AtMost, p.AtMostTimes, p.Total, p.Stat, p.Single,
    p.StopTaking, p.Quiet, p.ByMeals, p.Apart, p.Supply,
)  # fmt: skip


def _require_known(shared: Sequence[p.Item]) -> None:
    """What no rule has taken up is a question, never dropped."""
    for item in shared:
        if not isinstance(item, _KNOWN):
            raise Unclear("read.not-understood", item.span)


def _only(items: Sequence[_T]) -> _T | None:
    if len(items) > 1:
        raise Unclear("read.twice-said", items[1].span)
    return items[0] if items else None


def _bounds(shared: Sequence[p.Item], place: Place) -> tuple[Span | None, Period | None]:
    """How long, or from when until when; never both in one structure (FHIR R4 bounds[x])."""
    length = _length(shared)
    start = _only([item for item in shared if isinstance(item, p.From)])
    end = _only([item for item in shared if isinstance(item, p.Until)])
    cycle = _cycle_days(shared)
    if cycle is not None and cycle.open and place.number == place.count - 1 > 0 and not (length or start or end):
        return None, None
    if cycle is not None and cycle.length is None:
        return _numbered(cycle, place, said=bool(length or start or end)), None
    if start is None and end is None:
        return Span(length.number.low, length.unit) if length else None, None
    return None, _period(length, start, end)


def _length(shared: Sequence[p.Item]) -> p.For | p.Length | None:
    length = _only([item for item in shared if isinstance(item, p.For | p.Length)])
    if isinstance(length, p.Length) and length.role:
        raise Unclear("read.cycle-again", length.span)
    if length is not None and (length.number.low <= 0 or length.unit in (TimeUnit.HOUR, TimeUnit.MINUTE)):
        raise Unclear("read.odd-length", length.span)
    return length


def _period(length: p.For | p.Length | None, start: p.From | None, end: p.Until | None) -> Period:
    if start is not None and start.last is not None:
        if end is not None or length is not None:
            raise Unclear("read.twice-said", start.span)
        return Period(start.day, start.last)
    if length is None:
        if start and end and end.day < start.day:
            raise Unclear("read.odd-day", end.span)
        return Period(start.day if start else None, end.day if end else None)
    period = _last_day(start.day, Span(length.number.low, length.unit)) if start else None
    if period is None or (end is not None and end.day != period.end):
        raise Unclear("read.odd-length", length.span)
    return period


def _numbered(cycle: p.CycleDays, place: Place, *, said: bool) -> Span:
    """ "on day 1", "on days 2-5", one phase after the other."""
    if place.count == 1 or said or cycle.open:
        raise Unclear("read.odd-cycle", cycle.span)
    return Span(Fraction(cycle.last - cycle.first + 1), TimeUnit.DAY)


def _last_day(start: date, span: Span) -> Period | None:
    """A course counted from a stated day: the day itself is the first."""
    days = span.value * {TimeUnit.DAY: 1, TimeUnit.WEEK: 7}.get(span.unit, 0)
    if days.denominator != 1 or days < 1:
        return None
    return Period(start, start + timedelta(days=int(days) - 1))
