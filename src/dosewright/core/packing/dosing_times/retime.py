"""An order at other dosing times: the order, its dosing times today and the proposed ones in, the order as it would count out, or None.

Only `when`, `timeOfDay` and how often a day are written anew; days, courses, amounts, instructions and the text as received stay. The
result is expanded beside the old order, dose by dose: one that would change anything but the clock is none.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from dosewright.core.regimen.dosage import Dosage, Repeat, TimeUnit
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.timing_code import resolve_code
from dosewright.core.units.dosing_time import DosingTime, Moment, Timetable
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import SlotName

__all__ = ["COMPARED_DAYS", "Retiming", "retime", "stated_repeat"]

COMPARED_DAYS = 400  # a round of a yearly rhythm, and any course that a pharmacy packs
_PLAIN = ("MORN", "NOON", "EVE", "HS")
_HOURS = (TimeUnit.HOUR, TimeUnit.MINUTE, TimeUnit.SECOND)


def stated_repeat(dosage: Dosage) -> Repeat | None:
    """The repeat that the dosage states, its code resolved; None where it states none, or lists its moments one by one."""
    if dosage.timing is None or dosage.timing.events:
        return None
    repeat = resolve_code(dosage.timing)
    return None if isinstance(repeat, Finding) else repeat


@dataclass(frozen=True, slots=True)
class Retiming:
    """From `today`'s dosing times to the `proposed`, one for one in order of the clock, from the day `first` on."""

    today: tuple[DosingTime, ...]
    proposed: tuple[DosingTime, ...]
    timetable: Timetable
    first: date


def retime(order: Order, words: Sequence[Dosage], meant: Retiming) -> Order | None:
    """The order in force from the first day on at the proposed dosing times; None where that cannot be written or changes more.

    `words` are its dosages as its own words have them. Rhythms and counts run from where they ran.
    """
    dosages = [_retimed(dosage, meant) for dosage in words]
    if any(dosage is None for dosage in dosages):
        return None
    begins = max(order.since or Moment(meant.first), Moment(meant.first))
    anchor = order.anchor or (order.since.day if order.since else None)
    made = replace(order, dosages=tuple(dosage for dosage in dosages if dosage), since=begins, anchor=anchor)
    return made if _same_but_for_the_clock(order, made, meant) else None


def _retimed(dosage: Dosage, meant: Retiming) -> Dosage | None:
    repeat = stated_repeat(dosage)
    if repeat is None or dosage.timing is None:
        return None
    each_hour, proposed = repeat.period_unit in _HOURS, meant.proposed
    daily = replace(repeat, frequency=len(proposed), period=Fraction(1), period_unit=TimeUnit.DAY) if each_hour else repeat
    fresh = replace(_at(_often(daily, len(proposed)), proposed, meant.timetable), frequency_max=None)
    # Words that say "every 12 hours" would no longer agree; what was received stays with the order.
    return replace(dosage, timing=replace(dosage.timing, repeat=fresh, code=None), text="" if each_hour else dosage.text)


def _often(repeat: Repeat, times: int) -> Repeat:
    """Days of the week alone say nothing about how often; with dosing times named, they need not."""
    return repeat if repeat.frequency is not None or repeat.period is None else replace(repeat, frequency=times)


def _at(repeat: Repeat, proposed: Sequence[DosingTime], timetable: Timetable) -> Repeat:
    """By the four plain events where the timetable has one for each dosing time, else by the clock: the standard allows no mixture."""
    events = tuple(code for slot in proposed for code in _PLAIN if code in slot.when and _first_with(code, timetable) == slot)
    if len(events) == len(proposed):
        return replace(repeat, when=events, time_of_day=(), offset=None)
    return replace(repeat, when=(), time_of_day=tuple(slot.time for slot in proposed), offset=None)


def _first_with(code: str, timetable: Timetable) -> DosingTime | None:
    return next((slot for slot in timetable.slots if code in slot.when), None)


def _same_but_for_the_clock(order: Order, made: Order, meant: Retiming) -> bool:
    """Dose by dose: the same day, the same amount, and the dosing time that belongs to it."""
    names = {here.name: there for here, there in zip(meant.today, meant.proposed, strict=True)}
    last = date.fromordinal(min(meant.first.toordinal() + COMPARED_DAYS, date.max.toordinal()))
    before, after = (expand(one, meant.timetable, meant.first, (last - meant.first).days) for one in (order, made))
    if {before.status, after.status} != {ExpansionStatus.SCHEDULED} or any(dose.slot not in names for dose in before.doses):
        return False
    there = ((dose, names[dose.slot]) for dose in before.doses)
    return sorted((d.day, slot.time, slot.name, d.quantity.count, d.quantity.unit) for d, slot in there) == _listed(after)


def _listed(expansion: Expansion) -> list[tuple[date, object, SlotName, Fraction, str]]:
    return sorted((dose.day, dose.time, dose.slot, dose.quantity.count, dose.quantity.unit) for dose in expansion.doses)
