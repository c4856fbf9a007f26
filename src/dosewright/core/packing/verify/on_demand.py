"""Cards for as-needed medicines: one medicine a column, one dose a cavity, as many as the order's own most allows, and nothing due."""

from collections.abc import Iterable, Mapping

from dosewright.core.packing.plan_values import WHEN_NEEDED, Card, CardColumn, PackedCavity, PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.demand import Demand, demand_of
from dosewright.core.packing.verify.expected import Asked
from dosewright.core.packing.verify.fault import fault, in_card, in_cavity
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["check_on_demand"]


def check_on_demand(planned: PersonPlan, person: Person, expected: Iterable[Asked], request: PlanRequest) -> Iterable[Finding]:
    """Every column and cavity of these cards against its order, then for each as-needed order in a card how many doses there are."""
    claims = {claim.order.id: claim for claim in expected}
    demands = {id: demand for id, claim in claims.items() if (demand := demand_of(claim, request))}
    counted: dict[OrderId, int] = {}
    parts: dict[OrderId, list[tuple[int, int]]] = {}
    for card in planned.cards:
        if not card.as_needed:
            continue
        yield from _check_card(card, person, request)
        columns = {column.column: column for column in card.columns}
        for column in card.columns:
            yield from _check_column(column, card, claims, demands, person)
            if column.when_needed:
                parts.setdefault(column.when_needed.order, []).append((column.part, column.parts))
        for cavity in card.cavities:
            for content in cavity.contents:
                counted[content.order] = counted.get(content.order, 0) + 1
            if not _is_one_dose(cavity, columns.get(cavity.column), card):
                yield in_cavity("not-its-column", person, card, cavity)
    yield from _check_counts(counted, parts, demands, person)


def _check_card(card: Card, person: Person, request: PlanRequest) -> Iterable[Finding]:
    if not all(column.when_needed for column in card.columns):
        yield in_card("as-needed-mixed", person, card)
    if card.beyond_use < request.last:
        yield in_card("as-needed-too-short", person, card, expected=request.last, found=card.beyond_use)


def _check_column(
    column: CardColumn, card: Card, claims: Mapping[OrderId, Asked], demands: Mapping[OrderId, Demand], person: Person
) -> Iterable[Finding]:
    says = column.when_needed
    if says is None:
        return
    demand, claim = demands.get(says.order), claims.get(says.order)
    said = (says.dose.count, says.most.count, says.apart)
    asked = (demand.dose, demand.most, demand.apart) if demand else None
    if said != asked or claim is None or claim.order.medicine != says.medicine or (column.slot, column.first) != (WHEN_NEEDED, card.first):
        yield in_card("as-needed-says", person, card, column=column.column, order=says.order, medicine=says.medicine)


def _is_one_dose(cavity: PackedCavity, column: CardColumn | None, card: Card) -> bool:
    """One dose of the column's medicine, and nothing that could be read as due."""
    if column is None or column.when_needed is None:
        return False
    says = column.when_needed
    held = [(content.order, content.medicine, content.quantity) for content in cavity.contents]
    unscheduled = (cavity.slot, cavity.time, cavity.day) == (column.slot, column.time, card.beyond_use)
    return unscheduled and held == [(says.order, says.medicine, says.dose)] and (cavity.part, cavity.parts) == (1, 1)


def _check_counts(
    counted: Mapping[OrderId, int],
    parts: Mapping[OrderId, list[tuple[int, int]]],
    demands: Mapping[OrderId, Demand],
    person: Person,
) -> Iterable[Finding]:
    for order in sorted(counted.keys() | parts.keys()):
        doses = demands[order].doses if order in demands else 0
        if counted.get(order, 0) != doses:
            yield fault("as-needed-count", person, {"order": order}, expected=doses, found=counted.get(order, 0))
        found = parts.get(order, [])
        if found != [(part, len(found)) for part in range(1, len(found) + 1)]:
            said = tuple(f"{part} of {of}" for part, of in found)
            yield fault("as-needed-parts", person, {"order": order}, expected=len(found), found=said)
