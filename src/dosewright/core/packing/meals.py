"""Medicines for before food and for with food in one cavity: finished cavities in, findings out. Nothing is ever moved.

An order's own directions count first (FHIR R4 event codes of meals), then the pharmacy's rules by generic name.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import combinations

from dosewright.core.medicines.food import FoodRelation, FoodRule, food_rule
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.suitability import Rules
from dosewright.core.packing.plan_values import Content, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.directions import Directions, directions_of
from dosewright.core.regimen.order import Order
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode, OrderId, SlotName
from dosewright.core.units.person import Person

__all__ = ["check_meals"]

_Related = tuple[Medicine, FoodRelation, str]  # a medicine, how it is taken, and what says so
_WITH_A_MEAL = frozenset({"C", "CM", "CD", "CV", "PC", "PCM", "PCD", "PCV"})
_BEFORE_A_MEAL = frozenset({"AC", "ACM", "ACD", "ACV"})
_BY_ORDER = "directions"


def check_meals(person: Person, cavities: Iterable[PackedCavity], request: PlanRequest) -> Iterator[Finding]:
    """For each dosing time and two medicines the first cavity that holds one for before food and one for with food. Of cavities that share
    their contents the first is enough."""
    orders = {order.id: order for order in request.orders_of(person.id)}
    said: set[tuple[SlotName, MedicineCode, MedicineCode]] = set()
    for cavity, early, late in _meeting(cavities, orders, request):
        key = cavity.slot, early[0].code, late[0].code
        if key not in said:
            said.add(key)
            yield _found(person, cavity, early, late)


def _meeting(
    cavities: Iterable[PackedCavity], orders: Mapping[OrderId, Order], request: PlanRequest
) -> Iterator[tuple[PackedCavity, _Related, _Related]]:
    known: dict[tuple[OrderId, MedicineCode], _Related | None] = {}
    for cavity in cavities:
        for content in cavity.contents:
            if (key := (content.order, content.medicine)) not in known:
                known[key] = _related(content, orders, request)
        held = [related for content in cavity.contents if (related := known[content.order, content.medicine])]
        for one, other in combinations(held, 2):
            if one[1] is not other[1] and one[0].code != other[0].code:
                yield (cavity, one, other) if one[1] is FoodRelation.BEFORE else (cavity, other, one)


def _related(content: Content, orders: Mapping[OrderId, Order], request: PlanRequest) -> _Related | None:
    medicine = request.medicines[content.medicine]
    ordered = _as_ordered(directions_of(orders[content.order].dosages))
    if ordered:
        return medicine, ordered, _BY_ORDER
    rule = _rule_for(medicine, request.rules)
    return (medicine, rule.relation, f"{rule.id}; {rule.source}, {rule.dated}") if rule else None


@lru_cache(maxsize=16384)
def _rule_for(medicine: Medicine, rules: Rules) -> FoodRule | None:
    return food_rule(medicine, rules.foods)


@lru_cache(maxsize=8192)
def _as_ordered(directions: Directions) -> FoodRelation | None:
    """What the directions themselves say, where they say one thing."""
    repeats = (dosage.timing.repeat for dosage in directions.dosages if dosage.timing and dosage.timing.repeat)
    events = {event for repeat in repeats for event in repeat.when}
    before, with_food = bool(events & _BEFORE_A_MEAL), bool(events & _WITH_A_MEAL)
    if before == with_food:
        return None
    return FoodRelation.BEFORE if before else FoodRelation.WITH


def _found(person: Person, cavity: PackedCavity, early: _Related, late: _Related) -> Finding:
    where: dict[str, Fact] = {"person": person.id, "date": cavity.day, "slot": cavity.slot}
    medicines: dict[str, Fact] = {"medicine": early[0].label, "other": late[0].label}
    says: dict[str, Fact] = {"name": person.name, "says": early[2], "other_says": late[2], "time": cavity.time}
    return Finding("food-apart", Severity.NOTE, where, {**medicines, **says})
