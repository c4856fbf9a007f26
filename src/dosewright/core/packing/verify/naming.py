"""R1 and R15: every order is in the cavities or on the alongside list, never both, never neither, and nothing is left out for no reason."""

from collections.abc import Iterable

from dosewright.core.packing.plan_values import Alongside, PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.expected import Asked
from dosewright.core.packing.verify.fault import fault
from dosewright.core.packing.verify.reasons import reasons_to_stay_out
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["check_naming"]


def check_naming(planned: PersonPlan, person: Person, expected: tuple[Asked, ...], request: PlanRequest) -> Iterable[Finding]:
    """Where each order is named, and whether it may be there. In the order of the request, then of the alongside list."""
    packed = {content.order for card in planned.cards for cavity in card.cavities for content in cavity.contents}
    beside = {entry.order: entry for entry in planned.alongside}
    for claim in expected:
        yield from _check_one(claim, claim.order.id in packed, beside.get(claim.order.id), person, request, planned)
    yield from _check_strangers(planned, {claim.order.id: claim for claim in expected}, person)


def _check_one(  # noqa: PLR0913, PLR0917 - one row of a table: the claim, where it is found, and what to hold it against
    claim: Asked,
    packed: bool,
    entry: Alongside | None,
    person: Person,
    request: PlanRequest,
    planned: PersonPlan,  # noqa: FBT001
) -> Iterable[Finding]:
    where: dict[str, Fact] = {"order": claim.order.id}
    label = claim.medicine.label if claim.medicine else claim.order.medicine
    reasons = reasons_to_stay_out(claim, request)
    if packed and entry:
        yield fault("in-both-places", person, where, medicine=label)
    if packed and (barred := sorted(reasons - {"cavity.volume"})):  # too little room is found cavity by cavity
        yield fault("not-to-be-packed", person, where, medicine=label, why=barred[0])
    if entry is None and not packed and claim.in_cycle:
        yield fault("named-nowhere", person, where, medicine=label)
    if entry and entry.why not in reasons and not _set_refused(entry, planned):
        yield fault("left-out-without-reason", person, where, medicine=label, why=entry.why)


def _set_refused(entry: Alongside, planned: PersonPlan) -> bool:
    """A cycle that outlives its cards is refused whole: then nobody's doses are in any card."""
    return entry.why in ("beyond-use", "cycle.too-long") and not planned.cards


def _check_strangers(planned: PersonPlan, asked: dict[OrderId, Asked], person: Person) -> Iterable[Finding]:
    seen: set[OrderId] = set()
    for entry in planned.alongside:
        where: dict[str, Fact] = {"order": entry.order}
        claim = asked.get(entry.order)
        if claim is None or entry.order in seen or claim.order.medicine != entry.medicine:
            yield fault("alongside-wrong", person, where, medicine=entry.medicine)
        seen.add(entry.order)
