"""Numbers that may be an hour or an amount, minutes or an hour, a length or an amount: "at 6 in the morning and 6 at night".

Comes in: the phrases of a line in their order, before any is joined, and the letters of each. Goes out: a doubt for each. Source: common
practice, no source; found by looking at some 15,000 readings.
"""

import itertools
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.folding import DAY_HALVES
from dosewright.core.regimen.reading.line_parts import MOMENT
from dosewright.core.regimen.reading.meaning import Doubt, asked_once
from dosewright.core.regimen.reading.moments import same_part
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.regimen.reading.rows import is_joint

__all__ = ["find_doubtful_numbers"]

_HOURS = {  # the hours that people call so
    "MORN": range(4, 12), "NOON": range(11, 14), "AFT": range(1, 7), "EVE": range(3, 12), "CV": range(4, 10), "HS": range(5, 13),
    "NIGHT": range(5, 13), "NOCHE": range(5, 13), "TARDE": range(1, 9),
}  # fmt: skip
_MINUTES = frozenset({5, 10, 15, 20, 25})
_SMALL_HOURS = range(1, 5)
_EARLY, _LAST_HOUR, _WINDOW = 5, 24, 4
_LISTING = frozenset({"comma", "and", "plus", "semi", "newline"})

Said = Callable[[Place], str]


def find_doubtful_numbers(items: Sequence[p.Item], said: Said) -> tuple[Doubt, ...]:
    """All of them. `said` gives the letters at a place."""
    found = (
        *_second_hours(items),
        *_hours_in_a_list(items),
        *_counts_apart(items),
        *_words_for_one(items, said),
        *_windows(items, said),
        *_empty_cells(items),
        *_minutes(items, said),
        *_day_or_amount(items),
        *_bare_hours(items),
        *_halves(items, said),
        *_steps(items, said),
    )
    return asked_once("read.word", found)


def _second_hours(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "at 8 in the morning; 6 in the evening": after an hour a bare number before a part of the day may be one too."""
    hour: p.Item | None = None
    for at, item in enumerate(items):
        if isinstance(item, p.Clock | p.Hour):
            hour = item
        after = items[at + 1] if at + 1 < len(items) else None
        if hour is None or not isinstance(item, p.HowMuch) or not isinstance(after, p.When) or not _is_bare_whole(item):
            continue
        number = int(item.number.low)
        joints = [one for one in items[:at] if one.span > hour.span and not isinstance(one, p.When)]
        plain = len(joints) <= 1 and all(is_joint(one, {"and", "comma", "plus"}) for one in joints)
        taken_up, _ = DAY_HALVES.get(after.code, (range(0), 0))  # by `folding`, which asks where it must
        if number in _HOURS.get(after.code, range(0)) and not (plain and number in taken_up):
            yield Doubt("read.word", (item.span[0], after.span[1]))


def _hours_in_a_list(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "at 8am, 12 and 6pm", "morning 8, evening 8pm": the number between two times may be a third."""
    named = any(isinstance(item, p.HowMuch) and item.unit for item in items)
    clocks = any(isinstance(item, p.Clock | p.Hour) for item in items)
    for at, item in enumerate(items):
        if not isinstance(item, p.HowMuch) or not _is_bare_whole(item) or not 0 < item.number.low <= _LAST_HOUR:
            continue
        before, after = _next_phrase(items[:at][::-1]), _next_phrase(items[at + 1 :])
        left, right = items[at - 1] if at else None, items[at + 1] if at + 1 < len(items) else None
        joined = left is not None and is_joint(left, _LISTING)
        closed = any(one is not None and is_joint(one, {"and"}) for one in (left, right))
        if joined and closed and isinstance(before, p.Hour) and isinstance(after, p.Hour | p.Length | p.HowMuch | None):
            continue  # "a las 8, 14 y 20 horas" is taken up as a list
        listed = joined and right is not None and is_joint(right, _LISTING) and isinstance(before, MOMENT) and isinstance(after, MOMENT)
        if listed or (named and clocks and item.number.low >= _EARLY and not isinstance(right, p.When)):
            yield Doubt("read.word", item.span)


def _next_phrase(items: Sequence[p.Item]) -> p.Item | None:
    return next((item for item in items if not isinstance(item, p.Joint)), None)


def _counts_apart(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1x morgens, 2x abends": how often beside each time is how much."""
    pairs = [*itertools.pairwise(items), *itertools.pairwise(items[::-1])]
    times = [item for item, beside in pairs if isinstance(item, p.Times) and isinstance(beside, MOMENT)]
    if len({item.span for item in times}) > 1 and any(item.number.high != 1 for item in times):
        yield Doubt("read.word", p.whole(times))


def _words_for_one(items: Sequence[p.Item], said: Said) -> Iterator[Doubt]:
    """ "einen Tag 1, einen Tag 2": one day and another, or the first day and the second."""
    pairs = [(amount, day) for amount, day in itertools.pairwise(items) if isinstance(amount, p.HowMuch) and isinstance(day, p.CycleDays)]
    spelled = [amount for amount, _ in pairs if not amount.unit and amount.number.high == 1 and said(amount.span).isalpha()]
    if len(spelled) > 1:
        yield Doubt("read.word", p.whole(spelled))


def _windows(items: Sequence[p.Item], said: Said) -> Iterator[Doubt]:
    """ "20:00-22:00" may be between the two; "8 h matin et soir" may be eight and eight; "a la once" is tea, or eleven."""
    moments = [item for item in items if isinstance(item, MOMENT)]
    for first, joint, second in zip(items, items[1:], items[2:], strict=False):
        clocks = isinstance(first, p.Clock | p.Hour) and isinstance(second, p.Clock | p.Hour)
        if clocks and is_joint(joint, {"dash"}) and len(moments) == 2 and abs(_hour(second) - _hour(first)) < _WINDOW:
            yield Doubt("read.word", (first.span[0], second.span[1]))
    hours = [item for item in moments if isinstance(item, p.Clock | p.Hour)]
    parts = [item for item in moments if isinstance(item, p.When)]
    amounts = sum(isinstance(item, p.HowMuch) for item in items)
    if len(hours) == 1 and len(parts) > 1 and amounts == 1 and not any(same_part(a, b) for a, b in itertools.combinations(parts, 2)):
        yield Doubt("read.word", (moments[0].span[0], moments[-1].span[1]))
    for item in hours:
        if isinstance(item, p.Hour) and item.hour > 1 and said(item.span).casefold().startswith("a la "):
            yield Doubt("read.word", item.span)


def _hour(item: p.Item) -> int:
    return item.hour if isinstance(item, p.Hour) else item.time.hour if isinstance(item, p.Clock) else 0


def _empty_cells(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "morgens 1 mittags abends 2": where amounts stand after their times, a time without one may have none."""
    phrases = [item for item in items if not is_joint(item, {"colon", "dash"})]
    starts = len(phrases) > 1 and isinstance(phrases[0], MOMENT) and isinstance(phrases[1], p.HowMuch)
    for first, second in itertools.pairwise(phrases):
        if starts and isinstance(first, p.When) and isinstance(second, p.When) and not same_part(first, second):
            yield Doubt("read.no-match", (first.span[0], second.span[1]))
    for first, joint, second in zip(items, items[1:], items[2:], strict=False):
        empty = isinstance(second, MOMENT) or is_joint(second, {"comma", "newline"})
        if starts and empty and isinstance(first, MOMENT) and is_joint(joint, {"colon", "dash"}):
            yield Doubt("read.no-match", (first.span[0], second.span[1]))


def _is_bare_whole(item: p.HowMuch) -> bool:
    return not item.unit and item.number.exact and item.number.low.denominator == 1


def _minutes(items: Sequence[p.Item], said: Said) -> Iterator[Doubt]:
    """ "a las 8 y 20": eight twenty, or eight and twenty."""
    for at, (hour, joint, number) in enumerate(zip(items, items[1:], items[2:], strict=False)):
        if isinstance(hour, p.Hour) and is_joint(joint, {"and"}) and said(joint.span).casefold() == "y":
            bare = said(number.span)[:1].isdigit() and not isinstance(next(iter(items[at + 3 :]), None), p.Clock | p.Hour)
            if bare and _number_of(number) in _MINUTES:
                yield Doubt("read.word", (hour.span[0], number.span[1]))


def _number_of(item: p.Item) -> Fraction | int | None:
    """A bare number after an hour, "de la noche" or not."""
    match item:
        case p.Hour():
            return item.hour
        case p.Clock() if item.half and not item.time.minute:
            return item.time.hour % 12
        case p.HowMuch() if _is_bare_whole(item):
            return item.number.low
    return None


def _day_or_amount(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 day 2 night": one by day and two by night."""
    bare = [item for item in items if not isinstance(item, p.Joint)]
    for length, amount, when in zip(bare, bare[1:], bare[2:], strict=False):
        few = isinstance(length, p.Length) and not length.role and length.unit is TimeUnit.DAY and length.number.high <= 4
        if few and isinstance(amount, p.HowMuch) and not amount.unit and isinstance(when, p.When):
            yield Doubt("read.word", (length.span[0], when.span[1]))
    if len(bare) == 2 and all(isinstance(item, p.Length) and not item.role and item.unit is TimeUnit.DAY for item in bare):
        yield Doubt("read.word", (bare[0].span[0], bare[1].span[1]))


def _bare_hours(items: Sequence[p.Item]) -> Iterator[Doubt]:
    """ "1 at 8am, 2 pm", "1 tab 1 am 2 pm": with a blank before it, "pm" may be the afternoon, and the number an amount."""
    amounts = [item for item in items if isinstance(item, p.HowMuch)]
    units = any(item.unit for item in amounts) or any(isinstance(item, p.UnitAlone) for item in items)
    halves = [
        item for item in items if isinstance(item, p.Clock) and item.half and item.time.hour % 12 in _SMALL_HOURS and not item.time.minute
    ]
    clocks = [item for item in items if isinstance(item, MOMENT)]
    two = len(clocks) == 2 and len(amounts) == 1 and not any(isinstance(item, p.Every | p.Firm | p.Times) for item in items)
    if halves and two and (not units or len(halves) == len(clocks)):
        yield Doubt("read.word", halves[-1].span)


def _halves(items: Sequence[p.Item], said: Said) -> Iterator[Doubt]:
    """ "1 and 1/2 on alternate days": one and a half, or one and a half in turn."""
    turns = any(isinstance(item, p.Every) and item.unit is TimeUnit.DAY and item.number.low == 2 for item in items)
    for item in items:
        joined = isinstance(item, p.HowMuch) and item.number.low == Fraction(3, 2) and " " in said(item.span).strip()
        if turns and joined and "/" in said(item.span):
            yield Doubt("read.alternating", item.span)


def _steps(items: Sequence[p.Item], said: Said) -> Iterator[Doubt]:
    """ "4-3-2-1": four times of a day, or four days; "1-0-1 1/2": one and a half at last, or half a unit each time."""
    for item in items:
        if (
            isinstance(item, p.Pattern)
            and len(item.counts) > 2
            and all(a > b and a.denominator == 1 for a, b in itertools.pairwise(item.counts))
        ):
            yield Doubt("read.word", item.span)
        if isinstance(item, p.Pattern) and item.counts[-1] > 1 and item.counts[-1].denominator > 1 and " " in said(item.span).strip():
            yield Doubt("read.word", item.span)
