"""Changes of orders drawn at random in the published mix, for the benchmark of rework.

Mix (8 pharmacies, 261 adjustments in three weeks): 35 medicines added, 34 doses changed, 26 stopped, of a hundred.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import count
from random import Random

from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.shipped import read_shipped

__all__ = ["MIX", "RATES", "drawn_change", "one_by_one"]

MIX = (("added", 35), ("dose", 34), ("stopped", 26))
RATES = parse_rates(read_shipped("rework", "rates.toml"))
_COUNTS = tuple(Fraction(half, 2) for half in (1, 2, 3, 4))
_WHENS = (("MORN", 50), ("NOON", 12), ("EVE", 20), ("HS", 18))


def one_by_one(request: PlanRequest) -> Iterator[PlanRequest]:
    """Each person's request by itself; catalogue and rules stay the same values."""
    for person in request.people:
        yield replace(request, people=(person,), orders=request.orders_of(person.id))


def drawn_change(request: PlanRequest, random: Random, at: Moment) -> tuple[Order, ...]:
    """The orders of the request's one person with one change of the published mix, which counts from the moment on."""
    in_force = [order for order in request.orders if order.until is None]
    kind = random.choices([name for name, _ in MIX], [share for _, share in MIX])[0]
    free = sorted(set(request.medicines) - {order.medicine for order in in_force})
    if kind == "added" or not in_force:
        when = random.choices([name for name, _ in _WHENS], [share for _, share in _WHENS])[0]
        new = Order(_id(request), request.people[0].id, random.choice(free), (_daily(when, random.choice(_COUNTS)),), since=at)
        return (*request.orders, new)
    one = random.choice(in_force)
    rest = tuple(order for order in request.orders if order is not one)
    ended = (replace(one, until=at),) if one.since is None or one.since < at else ()
    if kind == "stopped":
        return (*rest, *ended)
    return (*rest, *ended, replace(one, id=_id(request), since=at, until=None, dosages=tuple(_another(d, random) for d in one.dosages)))


def _id(request: PlanRequest) -> OrderId:
    known = {order.id for order in request.orders}
    return next(id for n in count() if (id := OrderId(f"{request.people[0].id}+{n}")) not in known)


def _daily(when: str, tablets: Fraction) -> Dosage:
    repeat = Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=(when,))
    return Dosage(timing=Timing(repeat=repeat), amounts=(Amount(quantity=Quantity(tablets, Unit("tablet"))),))


def _another(dosage: Dosage, random: Random) -> Dosage:
    """The same at the same times, of another amount."""
    (amount,) = dosage.amounts
    was = amount.quantity
    assert was is not None
    tablets = random.choice([tablets for tablets in _COUNTS if tablets != was.count])
    return replace(dosage, amounts=(replace(amount, quantity=replace(was, count=tablets)),))
