"""What the new orders ask of the cards from the moment on: dosing time by dosing time, in units of each product; or why that is not known.

Comes in: a person, the request with the orders, the moment. Goes out: `Asked`. Whether an order goes into the cards or alongside is decided
as for a first plan, by `packing.placing`.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from fractions import Fraction

from dosewright.core.packing.placing import Placed, UnitSeries, place_order
from dosewright.core.packing.plan_values import Alongside
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode, OrderId, SlotName
from dosewright.core.units.person import Person

__all__ = ["Asked", "Claim", "When", "ask", "from_then_on", "unsettled"]

When = tuple[date, time]
Claim = tuple[OrderId, Fraction]
_OPEN = ("directions.", "amount.", "medicine.unknown")


@dataclass(frozen=True, slots=True)
class Asked:
    """`doses[when][medicine]` are the orders' claims, by order; days on which the same is asked share one mapping. `slots` names each
    dosing time. `alongside` is the list for the header."""

    doses: Mapping[When, Mapping[MedicineCode, tuple[Claim, ...]]]
    slots: Mapping[When, SlotName]
    alongside: tuple[Alongside, ...]
    findings: tuple[Finding, ...]

    def medicines(self) -> frozenset[MedicineCode]:
        """Every medicine that is asked for in a card."""
        kinds = {id(claims): claims for claims in self.doses.values()}
        return frozenset(code for claims in kinds.values() for code in claims)

    def without(self, codes: frozenset[MedicineCode]) -> "Asked":
        """The same, less those medicines."""
        return self.only(self.medicines() - codes)

    def only(self, codes: frozenset[MedicineCode]) -> "Asked":
        """The same, of those medicines."""
        kinds = {id(claims): claims for claims in self.doses.values()}
        less = {at: {code: held for code, held in claims.items() if code in codes} for at, claims in kinds.items()}
        return replace(self, doses={when: left for when, claims in self.doses.items() if (left := less[id(claims)])})


def ask(person: Person, request: PlanRequest, at: Moment) -> Asked:
    """What the person's orders in force ask of cards at the moment or later, to the cycle's last day."""
    placed = tuple(place_order(order, person, request) for order in request.orders_of(person.id))
    due: dict[When, list[UnitSeries]] = defaultdict(list)
    for one in (one for order in placed for one in order.series):
        for day in one.days:
            if (day, one.time) >= (at.day, at.time):
                due[day, one.time].append(one)
    doses = _claimed(due)
    slots = {when: series[-1].slot for when, series in due.items()}
    beside = sorted((entry for one in placed if (entry := _beside(one))), key=lambda entry: entry.order)
    return Asked(doses, slots, tuple(beside), tuple(finding for one in placed for finding in one.findings))


def _claimed(due: Mapping[When, Sequence[UnitSeries]]) -> Mapping[When, Mapping[MedicineCode, tuple[Claim, ...]]]:
    """Added up once for all days on which the same series fall due."""
    kinds: dict[tuple[int, ...], Mapping[MedicineCode, tuple[Claim, ...]]] = {}
    doses: dict[When, Mapping[MedicineCode, tuple[Claim, ...]]] = {}
    for when, series in due.items():
        kind = tuple(map(id, series))
        doses[when] = kinds.get(kind) or kinds.setdefault(kind, _added_up(series))
    return doses


def _beside(placed: Placed) -> Alongside | None:
    """An as-needed order is alongside here whatever its first plan did with it: no card that is changed takes it in."""
    if placed.on_demand:
        return Alongside(placed.on_demand.says.order, placed.on_demand.medicine.code, "as-needed")
    return placed.alongside


def _added_up(series: Iterable[UnitSeries]) -> Mapping[MedicineCode, tuple[Claim, ...]]:
    amounts: dict[MedicineCode, dict[OrderId, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
    for one in series:
        amounts[one.medicine.code][one.order] += one.count
    return {code: tuple(sorted(claims.items())) for code, claims in amounts.items()}


def unsettled(alongside: Iterable[Alongside]) -> tuple[Alongside, ...]:
    """Orders of which nobody can say yet what they ask: questions about directions or amounts, medicines that nobody knows."""
    return tuple(entry for entry in alongside if entry.why.startswith(_OPEN))


def from_then_on(order: Order, at: Moment, cycle: date) -> Order:
    """The order for doses at the moment or later only. Its rhythm still runs from where it began; `cycle` is the day that counts as its
    beginning where it names none."""
    anchor = order.anchor or (order.since.day if order.since else cycle)
    return replace(order, since=max(order.since, at) if order.since else at, anchor=anchor)
