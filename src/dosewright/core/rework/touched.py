"""Which cards hold something that no longer equals what the orders in force ask (R9).

Comes in: a person's orders before and after a change, the moment from which it counts, the person's dosing times and open cards. Goes
out: for each card that is touched, every dose that differs, and every medicine that is in force at some moment where it was not,
or the other way round.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction

from dosewright.core.packing.plan_values import Card
from dosewright.core.regimen.expand import expand_in_series
from dosewright.core.regimen.order import Order
from dosewright.core.rework.on_demand import changed_in
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.ids import CardNumber, MedicineCode

__all__ = ["Change", "Difference", "Touched", "touched"]

_Doses = dict[tuple[date, time, MedicineCode], Fraction]


@dataclass(frozen=True, slots=True)
class Change:
    """Orders of one person before and after, and the moment from which the new ones count."""

    before: tuple[Order, ...]
    after: tuple[Order, ...]
    at: Moment
    timetable: Timetable


@dataclass(frozen=True, slots=True, order=True)
class Difference:
    """How much of one medicine was asked at one dosing time, and how much is asked now, over all orders for it."""

    day: date
    time: time
    medicine: MedicineCode
    before: Fraction
    after: Fraction


@dataclass(frozen=True, slots=True)
class Touched:
    """One card and why: `doses` that differ on its days; `medicines` in force before but not after, or after but not before."""

    card: CardNumber
    doses: tuple[Difference, ...]
    medicines: tuple[MedicineCode, ...]


def touched(cards: Sequence[Card], change: Change) -> tuple[Touched, ...]:
    """The cards that the change touches, in the order given. A dose at a dosing time for which no card has a column touches every card of
    that day: somebody must decide where it goes. A new prescription that asks the same of the same medicine touches nothing."""
    found = (_touch(card, cards, change) for card in cards)
    return tuple(touch for touch in found if touch.doses or touch.medicines)


def _touch(card: Card, cards: Sequence[Card], change: Change) -> Touched:
    if card.as_needed:  # nothing of it is due: what counts is what its orders say
        changed = changed_in(card, change.before, change.after, change.at)
        return Touched(card.number, (), tuple(sorted({*changed, *_listed_differently(card, change)})))
    differences = _differences(card, change)
    mine = tuple(difference for difference in differences if _concerns(card, difference, cards))
    return Touched(card.number, mine, _listed_differently(card, change))


def _concerns(card: Card, difference: Difference, cards: Sequence[Card]) -> bool:
    def has_column(other: Card) -> bool:
        return (
            not other.as_needed
            and other.first <= difference.day <= other.last
            and any(column.time == difference.time for column in other.columns)
        )

    return has_column(card) or not any(has_column(other) for other in cards)


def _differences(card: Card, change: Change) -> tuple[Difference, ...]:
    """Only of medicines of which an order is another than before: of the rest nothing differs."""
    was, now = ({order.id: order for order in orders} for orders in (change.before, change.after))
    codes = {
        order.medicine for id in was.keys() | now.keys() if was.get(id) != now.get(id) for order in (was.get(id), now.get(id)) if order
    }
    before, after = (
        _asked([order for order in orders if order.medicine in codes], card, change) for orders in (change.before, change.after)
    )
    zero = Fraction(0)
    keys = sorted(key for key in before.keys() | after.keys() if before.get(key, zero) != after.get(key, zero))
    return tuple(Difference(*key, before.get(key, zero), after.get(key, zero)) for key in keys)


def _asked(orders: Iterable[Order], card: Card, change: Change) -> _Doses:
    """Doses of the card's days from the change on. Times and units: as expanded; an order that cannot be expanded asks nothing dated."""
    asked: _Doses = defaultdict(Fraction)
    days = (card.last - card.first).days + 1
    for order in orders:
        for one in expand_in_series(order, change.timetable, card.first, days).series:
            for day in (day for day in one.days if (day, one.time) >= (change.at.day, change.at.time)):
                asked[day, one.time, order.medicine] += one.quantity.count
    return asked


def _listed_differently(card: Card, change: Change) -> tuple[MedicineCode, ...]:
    """Medicines that the card's header names, in a card or alongside, and that at some moment of its days are in force before but not
    after, or after but not before. Between the moments at which an order begins or ends nothing can differ."""
    start, end = max(Moment(card.first), change.at), Moment(card.last, time.max)
    turns = {moment for order in (*change.before, *change.after) for moment in (order.since, order.until) if moment is not None}
    moments = [start, *(moment for moment in turns if start < moment)]
    differ = (_in_force(change.before, at) ^ _in_force(change.after, at) for at in moments if at <= end)
    return tuple(sorted(set().union(*differ)))


def _in_force(orders: Iterable[Order], at: Moment) -> set[MedicineCode]:
    return {order.medicine for order in orders if order.in_force(at)}
