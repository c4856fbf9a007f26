"""What the orders ask of one person's cycle, worked out again: for each order its doses, or why it has none to pack."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from itertools import groupby
from operator import attrgetter, itemgetter

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.substance import add_all, worth
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import SlotName
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity

__all__ = ["Asked", "At", "expected_of"]

At = tuple[date, time, SlotName]


@dataclass(frozen=True, slots=True)
class Asked:
    """One order's claim on the cycle. `status` is the expansion's; `doses` is what is due at each moment, as ordered.

    `due` is the same as substance or count (see `substance`); None in it where the product cannot give that amount in quarters.
    """

    order: Order
    medicine: Medicine | None
    status: str
    doses: dict[At, tuple[Quantity, ...]]
    due: dict[At, Fraction | None]

    @property
    def in_cycle(self) -> bool:
        """Whether anything of it has to be somewhere: a dose, or an instruction without dates."""
        return self.status != "scheduled" or bool(self.doses)


def expected_of(person: Person, request: PlanRequest) -> tuple[Asked, ...]:
    """Every order of the person that is in force at some moment of the cycle."""
    return tuple(_asked(order, person, request) for order in request.orders_of(person.id) if _live(order, request))


def _live(order: Order, request: PlanRequest) -> bool:
    """In force at some moment from the first day's start to the last day's end."""
    begins = order.since or Moment(date.min)
    return begins.day <= request.last and (order.until is None or Moment(request.first) < order.until)


def _asked(order: Order, person: Person, request: PlanRequest) -> Asked:
    expansion = expand(order, request.timetable_of(person), request.first, request.days)
    medicine = request.medicines.get(order.medicine)
    doses: dict[At, tuple[Quantity, ...]] = {}
    due: dict[At, Fraction | None] = {}
    for quantity, run in groupby(_counted(order, expansion.doses), key=_QUANTITY):
        moments: list[At] = list(map(_MOMENT, run)) if quantity.count else []
        alone: dict[At, tuple[Quantity, ...]] = dict.fromkeys(moments, (quantity,))
        if len(alone) == len(moments) and doses.keys().isdisjoint(alone):
            worth_each: dict[At, Fraction | None] = dict.fromkeys(alone, _sum((quantity,), medicine))
            doses, due = (doses | alone, due | worth_each) if doses else (alone, worth_each)
        else:
            for at in moments:
                doses[at] = (*doses.get(at, ()), quantity)
                due[at] = _sum(doses[at], medicine)
    return Asked(order, medicine, str(expansion.status), doses, due)


def _counted(order: Order, doses: tuple[Dose, ...]) -> Iterable[Dose]:
    """Those at which the order is in force, whatever the expansion says."""
    bounded = order.since is not None or order.until is not None
    return (dose for dose in doses if order.in_force(Moment(dose.day, dose.time))) if bounded else doses


_QUANTITY = attrgetter("quantity")
_MOMENT = itemgetter(*map(Dose._fields.index, ("day", "time", "slot")))


def _sum(quantities: tuple[Quantity, ...], medicine: Medicine | None) -> Fraction | None:
    amounts = [worth(quantity, medicine) if medicine else None for quantity in quantities]
    return add_all(amounts)
