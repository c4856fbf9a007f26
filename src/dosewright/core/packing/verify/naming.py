"""R1 and R15: every order is in the cavities or on the alongside list, never both, never neither, and nothing is left out for no reason."""

from collections.abc import Iterable
from dataclasses import dataclass

from dosewright.core.packing.plan_values import Alongside, PersonPlan, each_contents
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.expected import Asked
from dosewright.core.packing.verify.fault import fault
from dosewright.core.packing.verify.reasons import reasons_to_stay_out
from dosewright.core.packing.verify.refusing import reasons_to_refuse
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["check_naming"]


@dataclass(frozen=True, slots=True)
class _Whereabouts:
    """Which orders lie in cavities, which are named alongside; for which codes the set had to be refused whole, and was."""

    packed: frozenset[OrderId]
    beside: dict[OrderId, Alongside]
    refused: frozenset[str]


def check_naming(planned: PersonPlan, person: Person, expected: tuple[Asked, ...], request: PlanRequest) -> Iterable[Finding]:
    """Where each order is named, and whether it may be there. In the order of the request, then of the alongside list."""
    cavities = (cavity for card in planned.cards for cavity in each_contents(card.cavities))
    packed = frozenset(content.order for cavity in cavities for content in cavity.contents)
    scheduled = (cavity for card in planned.scheduled for cavity in each_contents(card.cavities))
    loose = frozenset(content.order for cavity in scheduled for content in cavity.contents)
    why_out = {claim.order.id: reasons_to_stay_out(claim, request) for claim in expected}
    refused = frozenset() if planned.cards else reasons_to_refuse([c for c in expected if not why_out[c.order.id]], request)
    whereabouts = _Whereabouts(packed, {entry.order: entry for entry in planned.alongside}, refused)
    for claim in expected:
        label = claim.medicine.label if claim.medicine else claim.order.medicine
        reasons = why_out[claim.order.id]
        if claim.status == "as-needed" and claim.order.id in loose and "as-needed" not in reasons:
            yield fault("not-to-be-packed", person, {"order": claim.order.id}, medicine=label, why="as-needed")
        for code, why in _faults(claim, whereabouts, reasons):
            yield fault(code, person, {"order": claim.order.id}, medicine=label, why=why)
    yield from _check_strangers(planned, {claim.order.id: claim for claim in expected}, person)


def _faults(claim: Asked, whereabouts: _Whereabouts, reasons: frozenset[str]) -> Iterable[tuple[str, str]]:
    """Codes of what is wrong with where one order is, each with the alongside code that it turns on."""
    packed, entry = claim.order.id in whereabouts.packed, whereabouts.beside.get(claim.order.id)
    if packed and entry:
        yield "in-both-places", entry.why
    if packed and (barred := sorted(reasons - {"cavity.volume"})):  # too little room is found cavity by cavity
        yield "not-to-be-packed", barred[0]
    if entry is None and not packed and claim.in_cycle:
        yield "named-nowhere", ""
    if entry and entry.why not in reasons | whereabouts.refused:
        yield "left-out-without-reason", entry.why


def _check_strangers(planned: PersonPlan, asked: dict[OrderId, Asked], person: Person) -> Iterable[Finding]:
    seen: set[OrderId] = set()
    for entry in planned.alongside:
        where: dict[str, Fact] = {"order": entry.order}
        claim = asked.get(entry.order)
        if claim is None or entry.order in seen or claim.order.medicine != entry.medicine:
            yield fault("alongside-wrong", person, where, medicine=entry.medicine)
        seen.add(entry.order)
