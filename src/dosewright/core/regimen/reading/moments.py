"""The times of day of one clause: those that name one administration together become one, and none may be named twice.

Comes in: events and clock times in the order of the line, with the joints between them. Goes out: events, and clock times.
"""

from collections.abc import Sequence
from dataclasses import replace

from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Unclear

__all__ = ["find_moments", "same_part"]

_PARTS = {  # FHIR event codes that stand for one administration when said together: "in the morning with breakfast"
    "MORN": "morning", "CM": "morning", "ACM": "morning", "PCM": "morning", "WAKE": "morning",
    "NOON": "noon", "CD": "noon", "ACD": "noon", "PCD": "noon",
    "EVE": "evening", "CV": "evening", "ACV": "evening", "PCV": "evening",
    "HS": "bedtime",
}  # fmt: skip
_GENERAL = frozenset({"MORN", "NOON", "EVE"})
_HOURS = {"morning": (4, 12), "noon": (11, 14), "evening": (16, 22), "bedtime": (18, 24)}  # clock hours people call so


_VAGUE = {  # names that `options` settles, and the parts of the day that they may be
    "MANANA": {"morning"}, "TARDE": {"noon", "evening"}, "AFT": {"noon", "evening"}, "PM": {"noon", "evening"},
    "NOCHE": {"evening", "bedtime"}, "NIGHT": {"evening", "bedtime"},
}  # fmt: skip


def same_part(first: p.Item, second: p.Item) -> bool:
    """Whether two events may be in one part of the day: "in the morning", "before breakfast"."""
    if not (isinstance(first, p.When) and isinstance(second, p.When)):
        return first == second
    one, other = (_VAGUE.get(item.code, {_PARTS.get(item.code, item.code)}) for item in (first, second))
    return not one.isdisjoint(other)


def find_moments(items: Sequence[p.Item]) -> tuple[list[p.When], list[p.Clock]]:
    """Times of day, those that name one administration together joined. Raises Unclear for the same time twice."""
    kept: list[p.When | p.Clock] = []
    between: set[str] = set()
    for item in items:
        if isinstance(item, p.Joint):
            between.add(item.kind)
        elif isinstance(item, p.When | p.Clock):
            _take(kept, item, between if kept else set())
            between = set()
    _require_apart(kept)
    return [item for item in kept if isinstance(item, p.When)], [item for item in kept if isinstance(item, p.Clock)]


_NO_LIST = frozenset({"lpar", "rpar", "colon", "amount"})  # joints that do not make two times of two names
_LIST = frozenset({"and", "plus", "but", "or"})


def _take(kept: list[p.When | p.Clock], item: p.When | p.Clock, between: set[str]) -> None:
    """Add a time, or join it to the one before. `between`: the joints that stand between the two."""
    if not kept:
        kept.append(item)
        return
    across = "amount" in between
    merged = _same(kept[-1], item) if across or between <= _NO_LIST else None
    if merged is None and not between & _LIST:
        merged = _same_after_comma(kept[-1], item)
    if merged is not None:
        kept[-1] = merged
    elif across or (not between and _both_led(kept[-1], item)):
        raise Unclear("read.one-or-two", (kept[-1].span[0], item.span[1]))
    else:
        kept.append(item)


def _both_led(first: p.When | p.Clock, second: p.When | p.Clock) -> bool:
    """ "at night in the morning": no list, and no one moment."""
    return all(isinstance(item, p.When) and item.led and item.stride is None for item in (first, second))


def _same_after_comma(first: p.When | p.Clock, second: p.When | p.Clock) -> p.When | p.Clock | None:
    """ "each morning, half an hour before breakfast", "in the morning, 8 am": the second says more of the first."""
    match first, second:
        case p.When(), p.When() if first.code in _GENERAL and second.code not in _GENERAL:
            return _same_event(first, second, joined=False)
        case (p.When() as when, p.Clock() as clock) | (p.Clock() as clock, p.When() as when) if _is_in(clock, when):
            return clock
    return None


def _is_in(clock: p.Clock, when: p.When) -> bool:
    """Whether people call that hour so."""
    low, high = _HOURS[_PARTS.get(when.code, "morning")]
    return when.offset is None and low <= clock.time.hour < high


def _same(first: p.When | p.Clock, second: p.When | p.Clock) -> p.When | p.Clock | None:
    """The two as one, or None where they are two times. Raises Unclear where they cannot be either."""
    match first, second:
        case p.When(), p.When():
            return _same_event(first, second, joined=True)
        case p.Clock(), p.When():
            return _named_clock(first, second)
        case p.When(), p.Clock():
            return _named_clock(second, first)
    return None


def _same_event(first: p.When, second: p.When, *, joined: bool) -> p.When | None:
    one, other = _PARTS.get(first.code), _PARTS.get(second.code)
    if joined and first.code == "EVE" and other == "bedtime":
        if second.bare:
            raise Unclear("read.one-or-two", (first.span[0], second.span[1]))
        return replace(second, stride=first.stride or second.stride)  # "in the evening at bedtime": bedtime says which part of it
    if one != other or one is None:
        return None
    if first.code == second.code or second.code in _GENERAL:
        return replace(first, stride=first.stride or second.stride)
    if first.code in _GENERAL:
        return replace(second, stride=first.stride or second.stride)
    raise Unclear("read.one-or-two", (first.span[0], second.span[1]))


def _named_clock(clock: p.Clock, when: p.When) -> p.Clock | None:
    if _is_in(clock, when):
        return clock
    raise Unclear("read.contradiction", (min(clock.span[0], when.span[0]), max(clock.span[1], when.span[1])))


def _require_apart(kept: Sequence[p.When | p.Clock]) -> None:
    seen: set[object] = set()
    for item in kept:
        name = item.time if isinstance(item, p.Clock) else _PARTS.get(item.code, item.code)
        if name in seen:
            raise Unclear("read.twice-said", item.span)
        seen.add(name)
