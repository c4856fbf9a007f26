"""What an order changes for its person when it is confirmed: in place of another, beside it, or as the first of its substance.

Comes in: the order as it would count, the one it is held against, both products, the person's dosing times. Goes out: a `Replacing` with
the change day by day in units of the product; in milligrams where the two products are different ones of one substance; without a change
where that cannot be counted exactly. Nothing is decided here.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction

from dosewright.core.medicines.amounts import units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.strength import find_strengths
from dosewright.core.medicines.substances import Blend, milligrams_of, same_substance, substances_of
from dosewright.core.regimen.daily_change import DailyChange, Given, find_daily_change
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.quantity import Quantity, Unit

__all__ = [
    "LOOKED_AT",
    "Outlook",
    "Relation",
    "Replacing",
    "Side",
    "compare_beside",
    "compare_first",
    "compare_replaced",
    "held_alike",
    "of_one_substance",
]

LOOKED_AT = 92  # days on which the change is laid out: a quarter, the longest set that is planned at one go

_Count = Callable[[Quantity], Fraction | None]
_MILLIGRAMS = Unit("mg")


class Relation(StrEnum):
    """What the order is to the one it is held against."""

    FIRST = "first"  # there is none
    REPLACES = "replaces"
    BESIDE = "beside"


@dataclass(frozen=True, slots=True)
class Side:
    """An order and its product."""

    order: Order
    medicine: Medicine


@dataclass(frozen=True, slots=True)
class Outlook:
    """The person's dosing times, and the day from which on a change can still be made."""

    timetable: Timetable
    today: date


@dataclass(frozen=True, slots=True)
class Replacing:
    """`since`: from when. `change` is None where amounts cannot be counted in one unit, or one of the orders cannot be put on days.

    `as_needed`: whether the order before, and after, is (also) taken when needed: those amounts are in no day.
    """

    relation: Relation
    other: Order | None
    since: Moment
    unit: Unit
    change: DailyChange | None
    as_needed: tuple[bool, bool] = (False, False)


def of_one_substance(one: Medicine, other: Medicine, blends: Iterable[Blend]) -> bool:
    """Whether both products hold the same substances: another strength, form or maker of one medicine."""
    known = tuple(blends)
    mine, theirs = substances_of(one, known), substances_of(other, known)
    return bool(mine) and len(mine) == len(theirs) and all(same_substance(a, b) for a, b in zip(mine, theirs, strict=True))


def held_alike(order: Order, others: Iterable[Order], today: date) -> tuple[Order, ...]:
    """Those that are in force at some time, from today on, together with the order: what it may replace or stand beside."""
    now = Moment(today)
    begins = max(now, order.since) if order.since else now
    return tuple(
        other
        for other in others
        if other.id != order.id
        and (other.until is None or other.until > begins)
        and (order.until is None or other.since is None or other.since < order.until)
    )


def compare_replaced(new: Side, old: Side, outlook: Outlook) -> Replacing:
    """The old order ends as the new one begins."""
    since = _since(new.order, outlook)
    ended = old.order if old.order.until is not None and old.order.until <= since else replace(old.order, until=since)
    return _compare(Relation.REPLACES, (old,), (_begun(new, since), Side(ended, old.medicine)), outlook)


def compare_beside(new: Side, old: Side, outlook: Outlook) -> Replacing:
    """Both count."""
    return _compare(Relation.BESIDE, (old,), (_begun(new, _since(new.order, outlook)), old), outlook)


def compare_first(new: Side, outlook: Outlook) -> Replacing:
    """Nothing before it."""
    return _compare(Relation.FIRST, (), (new,), outlook)


def _since(order: Order, outlook: Outlook) -> Moment:
    return order.since or Moment(outlook.today)


def _begun(new: Side, since: Moment) -> Side:
    return Side(replace(new.order, since=since), new.medicine)


def _compare(relation: Relation, before: tuple[Side, ...], after: tuple[Side, ...], outlook: Outlook) -> Replacing:
    """`after` begins with the new order. Every side is laid out from the day of the change on, or from today where that day is past."""
    since = _since(after[0].order, outlook)
    first = max(since.day, outlook.today)
    days = min(LOOKED_AT, (date.max - first).days + 1)
    laid = {id(side): expand(side.order, outlook.timetable, first, days) for side in (*before, *after)}
    unit, count = _counting(after[0], before, laid)
    needed = tuple(any(laid[id(side)].status is ExpansionStatus.AS_NEEDED for side in sides) for sides in (before, after[:1]))
    given = [_given(sides, laid, count) for sides in (before, after)]
    change = None
    if given[0] is not None and given[1] is not None:
        change = find_daily_change(given[0], given[1], first, days)
    return Replacing(relation, before[0].order if before else None, since, unit, change, (needed[0], needed[1]))


def _given(sides: Sequence[Side], laid: dict[int, Expansion], count: dict[str, _Count]) -> list[Given] | None:
    """Every dose, counted; None where an order is not put on days, or an amount cannot be counted."""
    found: list[Given] = []
    for side in sides:
        expansion = laid[id(side)]
        if expansion.status not in (ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED):
            return None
        for dose in expansion.doses:
            amount = count[side.medicine.code](dose.quantity)
            if amount is None:
                return None
            found.append(Given(dose.day, dose.time, dose.slot, amount))
    return found


def _counting(new: Side, before: Sequence[Side], laid: dict[int, Expansion]) -> tuple[Unit, dict[str, _Count]]:
    """In what the doses are counted, and how those of each product: milligrams where the products differ, else the product's own unit;
    an amount that is none of the product's units counts where all are written in one and the same unit."""
    medicines = {side.medicine.code: side.medicine for side in (new, *before)}
    if len(medicines) > 1:
        return _MILLIGRAMS, {code: _in_milligrams(medicine) for code, medicine in medicines.items()}
    written = {dose.quantity.unit for expansion in laid.values() for dose in expansion.doses}
    (medicine,) = medicines.values()
    if len(written) == 1 and not all(_in_units(medicine)(dose.quantity) is not None for dose in _doses(laid)):
        return next(iter(written)), {medicine.code: lambda quantity: quantity.count}
    return medicine.unit, {medicine.code: _in_units(medicine)}


def _doses(laid: dict[int, Expansion]) -> Iterable[Dose]:
    return (dose for expansion in laid.values() for dose in expansion.doses)


def _in_units(medicine: Medicine) -> _Count:
    def count(quantity: Quantity) -> Fraction | None:
        units = units_of(quantity, medicine)
        return units if isinstance(units, Fraction) else None

    return count


def _in_milligrams(medicine: Medicine) -> _Count:
    single = len(find_strengths(medicine.strength)) == 1  # "500 mg" of a product of two substances is of neither

    def count(quantity: Quantity) -> Fraction | None:
        return milligrams_of(quantity, medicine, 0, 1) if single else None

    return count
