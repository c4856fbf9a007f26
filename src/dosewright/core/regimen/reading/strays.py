"""Words of time that may belong to something else than the dose: "Do not take iron on Sundays", "mornings and alternate nights".

Comes in: the phrases of a line in their order, before any is joined. Goes out: a doubt for each that may be meant of an instruction, of a
reason, or of one time of day alone. Source: the error-prone joinings were found by looking at readings; common practice, no source.
"""

import itertools
from collections.abc import Iterator, Sequence
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.meaning import Doubt
from dosewright.core.regimen.reading.moments import same_part

__all__ = ["find_strays"]

_MOMENT = p.When | p.Clock | p.Hour
_SCHEDULE = (
    _MOMENT | p.OnDays | p.OtherDays | p.OfMonth | p.MonthDays | p.EachMonth | p.CycleDays | p.Rounds | p.ByMeals
    | p.Every | p.Firm | p.Times | p.For | p.Length | p.Until | p.From | p.After | p.Wanted | p.Stat | p.Single
)  # fmt: skip
_AMOUNT = p.HowMuch | p.Pattern | p.Cross | p.HourOrAmount
_ONE_AND_HALF = p.Number(Fraction(3, 2), Fraction(3, 2))
_LIST = frozenset({"and", "plus", "but", "or"})
_SENTENCE = frozenset({"stop", "newline", "semi", "comma", "lpar", "colon"})


def find_strays(items: Sequence[p.Item]) -> tuple[Doubt, ...]:
    """All doubts about what a phrase of time belongs to, in the order of the line."""
    rules = (_after_instructions, _before_instructions, _other_things, _around_reasons, _one_of_two, _crossed, _torn_amounts, _either)
    return tuple(dict.fromkeys(doubt for rule in rules for doubt in rule(items)))


def _is_aside(item: p.Item) -> bool:
    return isinstance(item, p.Quiet) and item.kind == "instr" and item.role in ("", "thing")


def _is_time(item: p.Item) -> bool:
    return isinstance(item, _SCHEDULE) and not (isinstance(item, p.ByMeals) and item.kind == "food")


def _after_instructions(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "Avoid alcohol for 3 days": the next verb or amount begins to speak of the dose again."""
    aside: p.Item | None = None
    for item in items:
        if _is_aside(item):
            aside = item
        elif isinstance(item, _AMOUNT) or (isinstance(item, p.Quiet) and item.kind == "verb"):
            aside = None
        elif aside is not None and _is_time(item):
            yield Doubt("read.whose-time", (aside.span[0], item.span[1]))


def _before_instructions(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 tablet daily. On Sundays avoid alcohol": the sentence begins with the time, and says nothing else of the dose."""
    for at, item in enumerate(items):
        start = at
        while _is_aside(item) and start and _is_time(items[start - 1]):
            start -= 1
        if start < at and (start == 0 or _is_joint(items[start - 1], _SENTENCE)):
            yield Doubt("read.whose-time", (items[start].span[0], item.span[1]))


def _is_joint(item: p.Item, kinds: frozenset[str]) -> bool:
    return isinstance(item, p.Joint) and item.kind in kinds


def _other_things(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "iron", "milk" go on with a list of what to avoid; alone they may be given too."""
    avoided = False
    for item in items:
        if isinstance(item, p.Quiet) and item.role == "thing":
            if not avoided:
                yield Doubt("read.other-thing", item.span)
        elif _is_aside(item):
            avoided = True
        elif not _is_joint(item, frozenset({"and", "or", "comma"})):
            avoided = False


def _around_reasons(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "in the morning for heartburn after lunch": the second time may be that of the heartburn."""
    for first, between, second in _moments_apart(items):
        asides = [item for item in between if isinstance(item, p.Reason) or (isinstance(item, p.Quiet) and item.kind == "instr")]
        listed = isinstance(between[-1], p.Joint) and (between[-1].kind in _LIST or not any(isinstance(item, p.Reason) for item in asides))
        if asides and not listed and not same_part(first, second):
            yield Doubt("read.whose-time", (asides[0].span[0], second.span[1]))


def _moments_apart(items: Sequence[p.Item]) -> Iterator[tuple[p.Item, Sequence[p.Item], p.Item]]:
    """Times of day that follow one another with other phrases and no amount between them."""
    for part in _parts(items):
        places = [at for at, item in enumerate(part) if isinstance(item, _MOMENT)]
        yield from ((part[a], part[a + 1 : b], part[b]) for a, b in itertools.pairwise(places) if b - a > 1)


def _parts(items: Sequence[p.Item]) -> list[list[p.Item]]:
    """The phrases before, between and after the amounts."""
    parts: list[list[p.Item]] = [[]]
    for item in items:
        if isinstance(item, _AMOUNT):
            parts.append([])
        else:
            parts[-1].append(item)
    return parts


def _one_of_two(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "mornings and alternate nights", "Monday and evening": days that are said with one time may be of that time alone."""
    for part in _parts(items):
        moments = [item for item in part if isinstance(item, _MOMENT)]
        mixed = len({item.stride or 1 for item in moments if isinstance(item, p.When)}) > 1
        if mixed and not all(same_part(one, other) for one, other in itertools.pairwise(moments)):
            yield Doubt("read.scope", p.whole(moments))
        for at, (before, joint, after) in enumerate(zip(part, part[1:], part[2:], strict=False)):
            days_and_time = {_is_days(before), _is_days(after)} == {True, False} and any(
                isinstance(item, _MOMENT) for item in (before, after)
            )
            added = isinstance(before, _MOMENT) and _is_rhythm(after) and any(isinstance(item, _MOMENT) for item in part[at + 3 :])
            if _is_joint(joint, frozenset({"and", "plus", "but"})) and (days_and_time or added):
                yield Doubt("read.scope", (before.span[0], after.span[1]))


def _is_days(item: p.Item) -> bool:
    return isinstance(item, p.OnDays | p.OtherDays)


def _is_rhythm(item: p.Item) -> bool:
    return isinstance(item, p.Every) and (item.unit is not TimeUnit.DAY or item.number.high != 1)


def _crossed(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "weekly x 3": three times a week, or for three weeks."""
    for first, second in itertools.pairwise(items):
        if isinstance(first, p.Every) and isinstance(second, p.Times) and second.crossed:
            yield Doubt("read.times-or-length", (first.span[0], second.span[1]))


def _torn_amounts(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 comprimé à | 2 | comprimés et demi": an hour with no word of its own, and a unit after it, are the end of a range."""
    for first, second in itertools.pairwise(items):
        if isinstance(first, p.Hour) and (
            isinstance(second, p.UnitAlone) or (isinstance(second, p.HowMuch) and second.number == _ONE_AND_HALF)
        ):
            yield Doubt("read.mixed", (first.span[0], second.span[1]))
    either = [item for item in items if isinstance(item, p.Joint) and item.kind == "colon" and item.text.casefold() == "soit"]
    if len(either) > 1:
        yield Doubt("read.or", (either[0].span[0], either[-1].span[1]))


def _either(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "täglich bei Epilepsie" is regular, "3 x täglich bei Schmerzen" may be either."""
    counted = [item for item in items if isinstance(item, p.Firm | p.Times)]
    often = any(isinstance(item, p.Pattern) or (isinstance(item, p.Every) and item.unit is not TimeUnit.HOUR) for item in items)
    often = all(_exact(item) for item in counted) and (often or bool(counted)) and not any(isinstance(item, p.AtMost) for item in items)
    for item in items:
        if isinstance(item, p.Wanted) and item.either and often:
            yield Doubt("read.if-or-for", item.span)


def _exact(item: p.Firm | p.Times) -> bool:
    return (item.times if isinstance(item, p.Firm) else item.number).exact
