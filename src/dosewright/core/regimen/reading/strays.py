"""Words of time that may belong to something else than the dose: "Do not take iron on Sundays".

Comes in: the phrases of a line in their order, before any is joined. Goes out: a doubt for each that may be meant of an instruction, of a
reason, or of nothing that is said. Source: the error-prone joinings were found by looking at readings; common practice, no source.
"""

import itertools
from collections.abc import Iterator, Sequence
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.line_parts import ADDED, AMOUNT, MOMENT, moments_in, parts_of
from dosewright.core.regimen.reading.meaning import Doubt
from dosewright.core.regimen.reading.moments import same_part
from dosewright.core.regimen.reading.rows import is_joint

__all__ = ["find_strays"]

_SCHEDULE = (
    MOMENT | p.OnDays | p.OtherDays | p.OfMonth | p.MonthDays | p.EachMonth | p.CycleDays | p.Rounds | p.ByMeals
    | p.Every | p.Firm | p.Times | p.For | p.Length | p.Until | p.From | p.After | p.Wanted | p.Stat | p.Single
)  # fmt: skip
_ONE_AND_HALF = p.Number(Fraction(3, 2), Fraction(3, 2))
_LIST = ADDED | {"or"}
_SENTENCE = frozenset({"stop", "newline", "semi", "comma", "lpar", "colon"})


def find_strays(items: Sequence[p.Item]) -> tuple[Doubt, ...]:
    """All doubts about what a phrase of time belongs to, in the order of the line."""
    rules = (_after_instructions, _before_instructions, _other_things, _around_reasons, _fasting, _spaced, _crossed, _torn_amounts, _either)
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
        elif isinstance(item, AMOUNT) or (isinstance(item, p.Quiet) and item.kind == "verb"):
            aside = None
        elif aside is not None and _is_time(item):
            yield Doubt("read.whose-time", (aside.span[0], item.span[1]))


def _before_instructions(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 tablet daily. On Sundays avoid alcohol": the sentence begins with the time, and says nothing else of the dose."""
    for at, item in enumerate(items):
        start = at
        while _is_aside(item) and start and _is_time(items[start - 1]):
            start -= 1
        if start < at and (start == 0 or is_joint(items[start - 1], _SENTENCE)):
            yield Doubt("read.whose-time", (items[start].span[0], item.span[1]))


def _other_things(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "iron", "milk" go on with a list of what to avoid; alone they may be given too."""
    avoided = False
    for item in items:
        if isinstance(item, p.Quiet) and item.role == "thing":
            if not avoided:
                yield Doubt("read.other-thing", item.span)
        elif _is_aside(item):
            avoided = True
        elif not is_joint(item, frozenset({"and", "or", "comma"})):
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
    for part in parts_of(items):
        yield from ((part[a], part[a + 1 : b], part[b]) for a, b in itertools.pairwise(moments_in(part)) if b - a > 1)


def _fasting(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "en ayunas y en la cena": what is said of how it is taken stands for a time of its own."""
    moments = [item for item in items if isinstance(item, MOMENT)]
    several = any(not same_part(one, other) for one, other in itertools.pairwise(moments))
    for how, joint, time in zip(items, items[1:], items[2:], strict=False):
        if not (isinstance(how, p.Quiet) and how.kind == "instr" and how.role in ("how", "fasting")) or not isinstance(time, MOMENT):
            continue
        if is_joint(joint, ADDED) or (how.role == "fasting" and several and isinstance(joint, p.Joint)):
            yield Doubt("read.scope", (how.span[0], time.span[1]))


def _spaced(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "3 tablets daily, evenly spaced", "3 tablets daily with meals": all at once, or one each time."""
    amounts = [item for item in items if isinstance(item, p.HowMuch)]
    daily = [item for item in items if isinstance(item, p.Every) and item.unit is TimeUnit.DAY]
    often = any(isinstance(item, p.Times | p.Firm | p.When | p.Clock | p.Pattern) for item in items)
    if len(amounts) != 1 or amounts[0].number.high <= 1 or not daily or often:
        return
    for item in items:
        if isinstance(item, p.Quiet) and item.role == "spaced":
            yield Doubt("read.divided", (amounts[0].span[0], item.span[1]))
        if isinstance(item, p.ByMeals) and item.kind in ("meals", "each"):
            yield Doubt("read.at-once-or-in-all", (amounts[0].span[0], item.span[1]))


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
