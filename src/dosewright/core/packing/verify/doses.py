"""R1, R2, R3: every dose of every order is in the cavities of its moment, in its amount, and nothing else is in any cavity."""

from collections.abc import Iterable
from fractions import Fraction

from dosewright.core.packing.plan_values import Content, PackedCavity, PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.expected import Asked, At
from dosewright.core.packing.verify.fault import fault, in_cavity
from dosewright.core.packing.verify.substance import add_all, worth
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import format_amount

__all__ = ["check_doses"]

_Held = dict[tuple[OrderId, At], tuple[Content, ...]]


def check_doses(planned: PersonPlan, person: Person, expected: Iterable[Asked], request: PlanRequest) -> Iterable[Finding]:
    """Compare order by order and moment by moment, then look for contents that no order of this person asks for."""
    held = _held(planned)
    asked = {claim.order.id: claim for claim in expected}
    packed = {order for order, _ in held}
    beside = {entry.order for entry in planned.alongside}
    for claim in asked.values():
        if claim.order.id not in beside or claim.order.id in packed:
            yield from _check_order(claim, held, person)
    yield from _check_contents(planned, asked, person, request)


def _held(planned: PersonPlan) -> _Held:
    held: _Held = {}
    for cavity, content in ((c, content) for card in planned.scheduled for c in card.cavities for content in c.contents):
        key = (content.order, (cavity.day, cavity.time, cavity.slot))
        held[key] = (*held.get(key, ()), content)
    return held


def _check_order(claim: Asked, held: _Held, person: Person) -> Iterable[Finding]:
    moments = {at for order, at in held if order == claim.order.id} | claim.due.keys()
    for at in sorted(moments, key=lambda m: (m[0], m[1], m[2] or "")):
        found = _worth_of(held.get((claim.order.id, at), ()), claim)
        due = claim.due.get(at, Fraction(0))
        if found != due or found is None:
            yield _difference(claim, at, due, held.get((claim.order.id, at), ()), person)


def _worth_of(contents: Iterable[Content], claim: Asked) -> Fraction | None:
    """What lies there of the order, as substance of the product that lies there; None where that cannot be told."""
    medicine = claim.medicine
    return add_all([worth(c.quantity, medicine) if medicine and c.medicine == medicine.code else None for c in contents])


def _difference(claim: Asked, at: At, due: Fraction | None, contents: tuple[Content, ...], person: Person) -> Finding:
    day, clock, slot = at
    code = "dose-missing" if not contents else "dose-not-ordered" if due == 0 else "dose-differs"
    where: dict[str, Fact] = {"order": claim.order.id, "date": day, "slot": slot}
    label = claim.medicine.label if claim.medicine else claim.order.medicine
    asked = tuple(f"{format_amount(q.count)} {q.unit}" for q in claim.doses.get(at, ()))
    found = tuple(f"{format_amount(c.quantity.count)} {c.quantity.unit} {c.medicine}" for c in contents)
    return fault(code, person, where, medicine=label, time=clock, expected=asked or ("nothing",), found=found or ("nothing",))


def _check_contents(planned: PersonPlan, asked: dict[OrderId, Asked], person: Person, request: PlanRequest) -> Iterable[Finding]:
    for card in planned.cards:
        for cavity in card.cavities:
            for content in cavity.contents:
                if code := _stray(content, asked, person, request):
                    order = next((o for o in request.orders if o.id == content.order), None)
                    wanted = (order.medicine if order else "nothing",)
                    yield in_cavity(code, person, card, cavity, order=content.order, medicine=content.medicine, expected=wanted)
            yield from _twice(cavity, person)


def _stray(content: Content, asked: dict[OrderId, Asked], person: Person, request: PlanRequest) -> str | None:
    claim = asked.get(content.order)
    if claim is None:
        known = any(order.id == content.order and order.person == person.id for order in request.orders)
        return "order-not-in-force" if known else "order-unknown"
    if content.medicine != claim.order.medicine:
        return "wrong-medicine"
    if content.quantity.count <= 0:
        return "nothing-of-it"
    return None if claim.medicine and content.quantity.unit == claim.medicine.unit else "wrong-unit"


def _twice(cavity: PackedCavity, person: Person) -> Iterable[Finding]:
    """One order stands once in a cavity: two lines of it would be read as two doses."""
    orders = [content.order for content in cavity.contents]
    for order in sorted({order for order in orders if orders.count(order) > 1}):
        where: dict[str, Fact] = {"order": order, "date": cavity.day, "slot": cavity.slot}
        yield fault("order-twice", person, where)
