"""What a line states about its own schedule, checked against it: how much in a day, how much in all, at most, how far apart.

Comes in: a phase and the dosages made of it. Raises Unclear where a statement does not agree. Nothing stated changes the schedule.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from dosewright.core.regimen.dosage import Dosage, Maximum, TimeUnit
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.clauses import Phase
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.structure import Made, each_day

__all__ = ["apart_from_supply", "check_stated", "is_taper"]

_DAYS = {TimeUnit.DAY: 1, TimeUnit.WEEK: 7}
_A_DAY = ((Fraction(24), TimeUnit.HOUR), (Fraction(1), TimeUnit.DAY))
_FEWEST_STEPS = 3
_FEWEST_SUPPLIED = 5  # "2 tablets, 1 daily for 2 days" may begin with two at once
_BREAKS = ("stop", "semi", "colon", "newline", "lpar", "rpar", "comma")


def apart_from_supply(items: Sequence[p.Item]) -> list[p.Item]:
    """ "28 tablets. 1 twice daily for 14 days", "1 bd for 14 days (28 tablets)": how much is supplied, where the line says how long.

    Only an amount that stands by itself at one end, with nothing beside it that says when.
    """
    amounts = [at for at, item in enumerate(items) if isinstance(item, p.HowMuch)]
    lasting = sum(isinstance(item, p.For) for item in items) == 1
    if len(amounts) != 2 or not lasting or any(isinstance(item, p.Joint) and item.kind == "then" for item in items):
        return list(items)
    for at in (amounts[0], amounts[-1]):
        item = items[at]
        assert isinstance(item, p.HowMuch)  # noqa: S101 — found as one
        if _by_itself(items, at) and item.number.exact and item.number.low >= _FEWEST_SUPPLIED and item.unit and item.unit not in p.MASS:
            return [*items[:at], p.Supply(item.span, item.number.low, item.unit), *items[at + 1 :]]
    return list(items)


def _by_itself(items: Sequence[p.Item], at: int) -> bool:
    """First or last in the line, cut off from the rest by a mark."""
    said = [n for n, item in enumerate(items) if not isinstance(item, p.Joint)]
    if at == said[0]:
        return at + 1 < len(items) and _is_break(items[at + 1])
    return at == said[-1] and _is_break(items[at - 1])


def _is_break(item: p.Item) -> bool:
    return isinstance(item, p.Joint) and item.kind in _BREAKS


def check_stated(phase: Phase, made: Sequence[Made], *, alone: bool) -> None:
    """`alone`: the line has no other phase, so what is supplied is for this one."""
    for item in phase.shared:
        match item:
            case p.Total():
                _check_total(item, made)
            case p.Supply():
                _check_supply(item, made, alone=alone)
            case p.Apart():
                _check_apart(item, made)
    _check_maximum(phase, made)


def _check_total(item: p.Total, made: Sequence[Made]) -> None:
    found, units = _daily(made), _units(made)
    alike = not item.unit or units == {item.unit} or (units == {""} and item.unit not in p.MASS)
    if not item.number.exact or found is None or found != item.number.low or not alike:
        raise Unclear("read.total", item.span)


def _check_supply(item: p.Supply, made: Sequence[Made], *, alone: bool) -> None:
    """So many a day, for so many days."""
    found, days = _daily(made), _days(made)
    if not alone or found is None or days is None or found * days != item.count or (item.unit and _units(made) - {item.unit, ""}):
        raise Unclear("read.total", item.span)


def _days(made: Sequence[Made]) -> Fraction | None:
    """How many days it is taken, where it is taken each day."""
    found = set()
    for dosage in _dosages(made):
        repeat = dosage.timing.repeat if dosage.timing else None
        bounds = repeat.bounds_duration if repeat else None
        if repeat is None or bounds is None or (repeat.period, repeat.period_unit) != (Fraction(1), TimeUnit.DAY) or repeat.day_of_week:
            return None
        found.add(bounds.value * _DAYS.get(bounds.unit, 0))
    return found.pop() if len(found) == 1 else None


def _check_apart(item: p.Apart, made: Sequence[Made]) -> None:
    """ "three times a day, 12 hours apart" does not fit into a day."""
    for dosage in _dosages(made):
        repeat = dosage.timing.repeat if dosage.timing else None
        times = each_day(repeat) if repeat else None
        if times is not None and times * item.hours > 24:
            raise Unclear("read.contradiction", item.span)


def _dosages(made: Sequence[Made]) -> list[Dosage]:
    return [dosage for one in made for dosage in one.dosages]


def _units(made: Sequence[Made]) -> set[str]:
    return {str(dosage.amounts[0].quantity.unit) for dosage in _dosages(made) if dosage.amounts[0].quantity}


def _daily(made: Sequence[Made]) -> Fraction | None:
    return _in_a_day(_dosages(made))


def _in_a_day(dosages: Sequence[Dosage]) -> Fraction | None:
    """How much on a day on which it is taken; None where that cannot be said."""
    total = Fraction(0)
    for dosage in dosages:
        repeat = dosage.timing.repeat if dosage.timing else None
        times = each_day(repeat) if repeat else None
        quantity = dosage.amounts[0].quantity
        if times is None or quantity is None:
            return None
        total += times * quantity.count
    return total


def is_taper(dosages: Sequence[Dosage], parts: int) -> bool:
    """Three steps or more that all go up or all go down."""
    steps = [[dosage for dosage in dosages if dosage.sequence == number + 1] for number in range(parts)]
    amounts = [_in_a_day(step) for step in steps]
    if parts < _FEWEST_STEPS or any(amount is None for amount in amounts):
        return False
    moves = {(after > before) - (after < before) for before, after in pairwise(amounts)}  # type: ignore[operator]
    return len(moves) == 1 and 0 not in moves


def _check_maximum(phase: Phase, made: Sequence[Made]) -> None:
    """A maximum below what the schedule gives in a day contradicts it; so does one below the count of as-needed doses."""
    for dosage in _dosages(made):
        limit = dosage.max_per_period
        if limit is not None and (_is_over(limit, dosage) if dosage.as_needed else not _is_within(limit, dosage, made)):
            span = next(item.span for item in phase.shared if isinstance(item, p.AtMost | p.AtMostTimes))
            raise Unclear("read.maximum", span)


def _is_within(limit: Maximum, dosage: Dosage, made: Sequence[Made]) -> bool:
    total, quantity = _daily(made), dosage.amounts[0].quantity
    day = (limit.span.value, limit.span.unit) in _A_DAY
    return day and total is not None and quantity is not None and limit.quantity.unit == quantity.unit and total <= limit.quantity.count


def _is_over(limit: Maximum, dosage: Dosage) -> bool:
    """ "2 three times a day when required, at most 4 a day": so many times, and fewer."""
    repeat = dosage.timing.repeat if dosage.timing else None
    quantity = dosage.amounts[0].quantity
    counted = repeat is not None and repeat.period_unit is TimeUnit.DAY and repeat.frequency_max is None
    total = each_day(repeat) if repeat is not None and counted else None
    if total is None or quantity is None or (limit.span.value, limit.span.unit) not in _A_DAY or limit.quantity.unit != quantity.unit:
        return False
    return total * quantity.count > limit.quantity.count
