"""Which doses of a card lie at other times once the dosing times are others (R9).

Comes in: a card, its person's orders, the moment of the change, the dosing times before and after. Goes out: every dose that differs, as
`touched` has them for changed orders; and whether a dosing time that the card prints bears another name now.
"""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, time
from fractions import Fraction

from dosewright.core.packing.plan_values import Card
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Order
from dosewright.core.rework.touched import Difference
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.ids import MedicineCode

__all__ = ["doses_at_other_times", "named_otherwise"]


def doses_at_other_times(card: Card, orders: Iterable[Order], at: Moment, before: Timetable, after: Timetable) -> tuple[Difference, ...]:
    """Every dose of the card's days from the moment on that is asked at a time where it was not, or the other way round. A card of what is
    taken when needed has no dosing time."""
    if card.as_needed:
        return ()
    held = {content.order for cavity in card.cavities for content in cavity.contents}
    mine = [order for order in orders if order.id in held]
    was, now = _asked(mine, card, at, before), _asked(mine, card, at, after)
    none = Fraction(0)
    keys = sorted(key for key in was.keys() | now.keys() if was.get(key, none) != now.get(key, none))
    return tuple(Difference(*key, was.get(key, none), now.get(key, none)) for key in keys)


def _asked(orders: Iterable[Order], card: Card, at: Moment, timetable: Timetable) -> dict[tuple[date, time, MedicineCode], Fraction]:
    asked: dict[tuple[date, time, MedicineCode], Fraction] = defaultdict(Fraction)
    for order in orders:
        for dose in expand(order, timetable, card.first, (card.last - card.first).days + 1).doses:
            moment = Moment(dose.day, dose.time)
            if moment >= at and order.in_force(moment):
                asked[dose.day, dose.time, dose.medicine] += dose.quantity.count
    return asked


def named_otherwise(card: Card, at: Moment, after: Timetable) -> tuple[str, ...]:
    """ "08:00: morning → breakfast": dosing times that the card's labels name, on days still to come, and that bear another name now."""
    if card.as_needed or card.last < at.day:
        return ()
    names = {(column.time, column.slot): after.at(column.time) for column in card.columns}
    return tuple(f"{clock:%H:%M}: {slot} → {now.name}" for (clock, slot), now in sorted(names.items()) if now and now.name != slot)
