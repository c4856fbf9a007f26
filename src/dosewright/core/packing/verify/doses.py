"""R1, R2, R3: every dose of every order is in the cavities of its moment, in its amount, and nothing else is in any cavity."""

from collections.abc import Collection, Iterable, Sequence
from fractions import Fraction
from itertools import product
from typing import TypeVar

from dosewright.core.packing.plan_values import Card, Content, PackedCavity, PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.expected import Asked, At
from dosewright.core.packing.verify.fault import fault, in_cavity
from dosewright.core.packing.verify.substance import add_all, worth
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import format_amount

__all__ = ["check_doses"]

_T = TypeVar("_T")
_Held = dict[OrderId, dict[At, tuple[Content, ...]]]


def check_doses(planned: PersonPlan, person: Person, expected: Iterable[Asked], request: PlanRequest) -> Iterable[Finding]:
    """Compare order by order and moment by moment, then look for contents that no order of this person asks for."""
    held = _held(planned)
    asked = {claim.order.id: claim for claim in expected}
    beside = {entry.order for entry in planned.alongside}
    for claim in asked.values():
        if claim.order.id not in beside or claim.order.id in held:
            yield from _check_order(claim, held.get(claim.order.id, {}), person)
    yield from _check_contents(planned, asked, person, request)


def _held(planned: PersonPlan) -> _Held:
    """What is held of each order at each moment. Cavities that share their contents are gone through together."""
    moments: dict[int, tuple[tuple[Content, ...], list[At]]] = {}
    for cavity in (cavity for card in planned.scheduled for cavity in card.cavities):
        moments.setdefault(id(cavity.contents), (cavity.contents, []))[1].append((cavity.day, cavity.time, cavity.slot))
    held: _Held = {}
    for contents, at_all in moments.values():
        for content in contents:
            _hold(held.setdefault(content.order, {}), at_all, (content,))
    return held


def _hold(held: dict[At, tuple[Content, ...]], at_all: Sequence[At], alone: tuple[Content]) -> None:
    fresh = dict.fromkeys(at_all, alone)
    if len(fresh) == len(at_all) and held.keys().isdisjoint(fresh):
        held.update(fresh)
    else:
        for at in at_all:
            held[at] = (*held.get(at, ()), *alone)


def _check_order(claim: Asked, held: dict[At, tuple[Content, ...]], person: Person) -> Iterable[Finding]:
    for at in sorted(_wrong_moments(claim, held), key=lambda m: (m[0], m[1], m[2] or "")):
        yield _difference(claim, at, claim.due.get(at, _NOTHING), held.get(at, ()), person)


def _wrong_moments(claim: Asked, held: dict[At, tuple[Content, ...]]) -> Iterable[At]:
    """Where what lies there is not worth what is due, or its worth cannot be told. The same contents against the same due: judged once."""
    dues, found = claim.due.values(), [held.get(at, ()) for at in claim.due]
    pairs = product(_differing(dues), _differing(found))
    wrong = {(id(due), id(contents)) for due, contents in pairs if not _is_worth(contents, due, claim)}
    if wrong:
        yield from (at for at, due, contents in zip(claim.due, dues, found, strict=True) if (id(due), id(contents)) in wrong)
    yield from (at for at in held.keys() - claim.due.keys() if not _is_worth(held[at], _NOTHING, claim))


_NOTHING = Fraction(0)


def _differing(values: Collection[_T]) -> Collection[_T]:
    """Each of the very same values once."""
    return dict(zip(map(id, values), values, strict=True)).values()


def _is_worth(contents: Iterable[Content], due: Fraction | None, claim: Asked) -> bool:
    found = _worth_of(contents, claim)
    return found is not None and found == due


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
    """Cavities that share their contents with one that was right are right too."""
    right: set[int] = set()
    for card in planned.cards:
        for cavity in card.cavities:
            if id(cavity.contents) in right:
                continue
            faults = [*_strays(card, cavity, asked, person, request), *_twice(cavity, person)]
            if not faults:
                right.add(id(cavity.contents))
            yield from faults


def _strays(card: Card, cavity: PackedCavity, asked: dict[OrderId, Asked], person: Person, request: PlanRequest) -> Iterable[Finding]:
    for content in cavity.contents:
        if code := _stray(content, asked, person, request):
            order = next((o for o in request.orders if o.id == content.order), None)
            wanted = (order.medicine if order else "nothing",)
            yield in_cavity(code, person, card, cavity, order=content.order, medicine=content.medicine, expected=wanted)


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
    if len(set(orders)) == len(orders):
        return
    for order in sorted({order for order in orders if orders.count(order) > 1}):
        where: dict[str, Fact] = {"order": order, "date": cavity.day, "slot": cavity.slot}
        yield fault("order-twice", person, where)
