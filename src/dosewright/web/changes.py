"""What an order changes, as people read it: from when, how much a day before and after, dosing time by dosing time.

Comes in: core's `Replacing`. Goes out: "From Tue 10 Mar 2026: 2 tablets a day become 1.", and by dosing time "bedtime 1 → none", "morning
stays 1", for the drawing and for the table beside it. A change that differs from day to day is summed up over fourteen days and drawn.
"""

from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction

from dosewright.core.custody.replacing import Relation, Replacing
from dosewright.core.regimen.daily_change import DailyChange, DayChange, Stretch, TimeChange
from dosewright.core.units.amount_words import format_count, format_quantity, format_strength, plural_unit
from dosewright.core.units.quantity import Quantity, Unit, format_amount
from dosewright.web.card_map import glyph
from dosewright.web.dates import day_in_full
from dosewright.web.regimen_strip import DAYS

__all__ = ["NOT_COUNTED", "ChangeDrawn", "ChangedDay", "ChangedPart", "ChangedRow", "ChangedTime", "draw_change"]

_MOST_PARTS = 5  # stretches of like days that are told one by one; beyond that nobody reads them
_MANY = Fraction(2)
NOT_COUNTED = "It cannot be counted in one unit, or not put on days: compare the two sentences."


@dataclass(frozen=True, slots=True)
class ChangedTime:
    """One dosing time, before and after, "none" where nothing is given. `changed`: it does not stay as it is."""

    time: time
    slot: str
    before: str
    after: str
    changed: bool


@dataclass(frozen=True, slots=True)
class ChangedPart:
    """Days that are alike, and what changes on each of them."""

    first: date
    last: date
    sentence: str
    times: tuple[ChangedTime, ...]


@dataclass(frozen=True, slots=True)
class ChangedDay:
    """One day where they are not alike."""

    day: date
    times: tuple[ChangedTime, ...]


@dataclass(frozen=True, slots=True)
class ChangedRow:
    """One line of the table: a dosing time from one day up to another, None where it goes on."""

    first: date
    last: date | None
    at: ChangedTime


@dataclass(frozen=True, slots=True)
class ChangeDrawn:
    """`sentence`: the whole in one line; `parts`: stretches of like days in order; `days`: each day, where there are too many stretches."""

    sentence: str
    parts: tuple[ChangedPart, ...] = ()
    days: tuple[ChangedDay, ...] = ()

    @property
    def rows(self) -> tuple[ChangedRow, ...]:
        """The same as lines of a table, in order of day and clock."""
        ends = [part.last for part in self.parts]
        parts = [(part.first, None if number == len(ends) - 1 else part.last, part.times) for number, part in enumerate(self.parts)]
        days = [(day.day, day.day, day.times) for day in self.days]
        return tuple(ChangedRow(first, last, one) for first, last, times in (*parts, *days) for one in times)


def draw_change(found: Replacing, country: str) -> ChangeDrawn:
    """In the product's units, or in milligrams as the country writes them."""
    change, say = found.change, _Amounts(found.unit, country)
    if change is None or not change.days:
        return ChangeDrawn(NOT_COUNTED)
    if any(found.as_needed):
        return ChangeDrawn(_when_needed(found, change, say), _parts(found, change, say))
    stretches = change.stretches()
    if len(stretches) > _MOST_PARTS:
        return ChangeDrawn(_summed(found, change, say), days=_days(change.first_days(DAYS), say))
    parts = _parts(found, change, say)
    return ChangeDrawn(parts[0].sentence if parts else "", parts)


class _Amounts:
    """Amounts in one unit, as words."""

    def __init__(self, unit: Unit, country: str) -> None:
        self._unit, self._country = unit, country

    @property
    def measured(self) -> bool:
        """Whether an amount ends with its unit, after which no sentence may end (R16)."""
        return self._unit == "mg"

    def whole(self, count: Fraction) -> str:
        """ "2 tablets", "half a tablet", "7.5 mg", "0 tablets"."""
        exact = format_amount(count)
        if self._unit == "mg" and "/" not in exact:
            return format_strength(count, "mg", self._country)
        if self._unit == "mg":
            return f"{exact} mg"
        return format_quantity(Quantity(count, self._unit)) if count else f"0 {plural_unit(self._unit, _MANY)}"

    def bare(self, count: Fraction) -> str:
        """ "2", "half", "none"; milligrams keep their unit."""
        if not count:
            return "none"
        return self.whole(count) if self._unit == "mg" else format_count(count)

    def glyph(self, count: Fraction) -> str:
        """ "2", "½", "none"."""
        return (self.whole(count) if self._unit == "mg" else glyph(count)) if count else "none"


def _parts(found: Replacing, change: DailyChange, say: _Amounts) -> tuple[ChangedPart, ...]:
    stretches = change.stretches()[:_MOST_PARTS]
    return tuple(_part(found, stretch, say, opening=not number) for number, stretch in enumerate(stretches))


def _part(found: Replacing, stretch: Stretch, say: _Amounts, *, opening: bool) -> ChangedPart:
    if found.relation is Relation.FIRST:
        sentence = _first_sentence(stretch, say, opening=opening)
    else:
        sentence = f"From {day_in_full(stretch.first)}: {_day_sentence(stretch.like, say)}"
    return ChangedPart(stretch.first, stretch.last, sentence, tuple(_time(one, say) for one in stretch.like.times))


def _first_sentence(stretch: Stretch, say: _Amounts, *, opening: bool) -> str:
    """Nothing was there before: the first stretch begins at nought, the next ones say what is given then."""
    amount = f"{say.whole(stretch.like.after)} a day"
    if opening:
        return f"New, from {day_in_full(stretch.first)}: 0 → {amount}."
    return f"From {day_in_full(stretch.first)}: {amount if stretch.like.after else 'none'}."


def _day_sentence(like: DayChange, say: _Amounts) -> str:
    before, after = like.before, like.after
    if all(one.before == one.after for one in like.times):
        return f"nothing changes, {say.whole(after)} a day."
    if before == after:
        return f"{say.whole(after)} a day as before, at other times."
    verb = "becomes" if 0 < before <= 1 else "become"
    return f"{say.whole(before)} a day {verb} {say.bare(after)}{' a day' if after and say.measured else ''}."


def _when_needed(found: Replacing, change: DailyChange, say: _Amounts) -> str:
    """Amounts that are taken on demand are in no day, so they are named apart."""
    (was, will_be), first = found.as_needed, change.days[0]
    before, after = _with_need(first.before, say, needed=was), _with_need(first.after, say, needed=will_be)
    if found.relation is Relation.FIRST:
        return f"New, from {day_in_full(first.day)}: {after}."
    return f"From {day_in_full(first.day)}: {before} → {after}."


def _with_need(count: Fraction, say: _Amounts, *, needed: bool) -> str:
    if not needed:
        return f"{say.whole(count)} a day"
    return f"{say.whole(count)} a day and more when needed" if count else "only when needed"


def _summed(found: Replacing, change: DailyChange, say: _Amounts) -> str:
    seen = change.first_days(DAYS)
    before, after = seen.total()
    opening = "New, from" if found.relation is Relation.FIRST else "From"
    said = f"{say.whole(before)} → {say.bare(after)}" if before or found.relation is not Relation.FIRST else f"0 → {say.whole(after)}"
    return f"{opening} {day_in_full(seen.days[0].day)}: in the first {len(seen.days)} days {said}; it differs from day to day."


def _days(change: DailyChange, say: _Amounts) -> tuple[ChangedDay, ...]:
    return tuple(ChangedDay(day.day, tuple(_time(one, say) for one in day.times)) for day in change.days)


def _time(one: TimeChange, say: _Amounts) -> ChangedTime:
    return ChangedTime(one.time, one.slot, say.glyph(one.before), say.glyph(one.after), one.before != one.after)
