"""The independent recount after a change: the open cards as they now are against the orders in force, and units against units.

It shares nothing with what finds differences or lays cards out: doses come from `regimen.expand` again, amounts are compared as substance,
volumes and neighbours are judged by the recount of plans. Every fault is a `stop`. Holds R2, R3, R4, R5, R11 and R17.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, time
from fractions import Fraction

from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.plan_values import Alongside, Card, Content, PackedCavity, PersonPlan, Proof
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.dates import check_dates
from dosewright.core.packing.verify.expected import Asked, expected_of
from dosewright.core.packing.verify.neighbours import check_cavities
from dosewright.core.packing.verify.substance import worth
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, OrderId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity

__all__ = ["Recounted", "check_change", "check_units"]

_When = tuple[date, time]
_Amounts = dict[tuple[_When, MedicineCode], Fraction | None]
_NO_PROOF = Proof(0, 0, optimal=False, nodes=0, cards=0, cards_lower_bound=0)


@dataclass(frozen=True, slots=True)
class Recounted:
    """One person's open cards. `cards` hold what the new orders ask; `waiting` were left with a reason, and may hold what was asked before.

    `given`: doses due at the moment or later that are taken already. `earlier`: what each card held before the moment, by its number.
    `forms`: the card formats of those that have another than is used now.
    """

    person: Person
    cards: tuple[Card, ...]
    waiting: tuple[Card, ...]
    alongside: tuple[Alongside, ...]
    given: Mapping[tuple[_When, MedicineCode], Fraction] = field(default_factory=dict)
    earlier: Mapping[CardNumber, tuple[PackedCavity, ...]] = field(default_factory=dict)
    forms: Mapping[CardNumber, CardFormat] = field(default_factory=dict)


def check_change(counted: Recounted, request: PlanRequest, at: Moment) -> tuple[Finding, ...]:
    """Every fault, in order of moment and medicine; then what no order explains; then limits; then what should not have been touched."""
    claims = {claim.order.id: claim for claim in expected_of(counted.person, request)}
    return (
        *_check_doses(counted, claims, request, at),
        *_check_orders(counted, claims, at),
        *_check_limits(counted, request),
        *_check_untouched(counted, at),
    )


def _check_doses(counted: Recounted, claims: Mapping[OrderId, Asked], request: PlanRequest, at: Moment) -> Iterable[Finding]:
    due, held, sure = (
        _due(counted, claims, at),
        _worths((*counted.cards, *counted.waiting), request, at),
        _worths(counted.cards, request, at),
    )
    for key in sorted(due.keys() | held.keys()):
        when = key[0]
        asked, found, right = due.get(key, Fraction(0)), held.get(key, Fraction(0)), sure.get(key, Fraction(0))
        if _waits(when, counted):
            # Beside a card that waits, the others hold nothing that is not asked, and none of it twice.
            if found is None or asked is None or right is None or right > asked:
                yield _fault("rework.recount-dose", counted, request, key, expected=asked, found=right)
        elif found is None or asked is None or found != asked:
            yield _fault("rework.recount-dose", counted, request, key, expected=asked, found=found)


def _waits(when: _When, counted: Recounted) -> bool:
    return any(card.first <= when[0] <= card.last for card in counted.waiting)


def _due(counted: Recounted, claims: Mapping[OrderId, Asked], at: Moment) -> _Amounts:
    """What is asked of cards from the moment on, less what was taken already."""
    beside = {entry.order for entry in counted.alongside}
    due: _Amounts = {}
    for claim in (claim for claim in claims.values() if claim.order.id not in beside):
        for (day, clock, _), amount in claim.due.items():
            if Moment(day, clock) >= at:
                key = ((day, clock), claim.order.medicine)
                due[key] = _plus(due.get(key, Fraction(0)), amount)
    for key, gone in counted.given.items():
        rest = due.get(key)
        if rest is not None:
            due[key] = max(Fraction(0), rest - _of_one(claims, key[1]) * gone)
    return due


def _of_one(claims: Mapping[OrderId, Asked], code: MedicineCode) -> Fraction:
    """The substance of one unit."""
    medicine = next(claim.medicine for claim in claims.values() if claim.medicine is not None and claim.medicine.code == code)
    return worth(Quantity(Fraction(1), medicine.unit), medicine) or Fraction(1)


def _worths(cards: Iterable[Card], request: PlanRequest, at: Moment) -> _Amounts:
    held: _Amounts = {}
    for cavity, content in _contents(cards, at):
        medicine = request.medicines.get(content.medicine)
        key = ((cavity.day, cavity.time), content.medicine)
        held[key] = _plus(held.get(key, Fraction(0)), worth(content.quantity, medicine) if medicine else None)
    return held


def _plus(one: Fraction | None, other: Fraction | None) -> Fraction | None:
    return None if one is None or other is None else one + other


def _contents(cards: Iterable[Card], at: Moment) -> Iterable[tuple[PackedCavity, Content]]:
    for cavity in (cavity for card in cards for cavity in card.cavities if Moment(cavity.day, cavity.time) >= at):
        for content in cavity.contents:
            yield cavity, content


def _check_orders(counted: Recounted, claims: Mapping[OrderId, Asked], at: Moment) -> Iterable[Finding]:
    """What lies in a card that does not wait is there for an order in force, of that medicine, that is due then."""
    for card in counted.cards:
        for cavity, content in _contents((card,), at):
            claim = claims.get(content.order)
            due = claim is not None and any(key[:2] == (cavity.day, cavity.time) for key in claim.due)
            if claim is None or claim.order.medicine != content.medicine or not due or content.quantity.count <= 0:
                where: dict[str, Fact] = {"person": counted.person.id, "card": card.number, **_place(cavity), "order": content.order}
                yield Finding("rework.recount-order", Severity.STOP, where, {"name": counted.person.name, "medicine": content.medicine})


def _check_limits(counted: Recounted, request: PlanRequest) -> Iterable[Finding]:
    """Volume, pieces, label lines, pairs and last days, by the recount of plans; each card by its own format. Label lines are measured for
    the format that is used now alone: into the others nothing goes that they did not bear before."""
    planned = PersonPlan(counted.person.id, counted.cards, counted.alongside, _NO_PROOF)
    for form in dict.fromkeys(counted.forms.get(card.number) for card in counted.cards):
        cards = tuple(card for card in counted.cards if counted.forms.get(card.number) == form)
        limits = replace(request, format=form, label_lines=None) if form else request
        yield from check_cavities(replace(planned, cards=cards), counted.person, limits)
    yield from check_dates(planned, counted.person, request)


def _check_untouched(counted: Recounted, at: Moment) -> Iterable[Finding]:
    """A cavity before the moment still holds what it held."""
    for card in (card for card in (*counted.cards, *counted.waiting) if card.number in counted.earlier):
        now = {(c.row, c.column): c.contents for c in card.cavities if Moment(c.day, c.time) < at}
        was = {(c.row, c.column): c for c in counted.earlier[card.number]}
        for cell in sorted(now.keys() | was.keys()):
            if now.get(cell, ()) != (was[cell].contents if cell in was else ()):
                where: dict[str, Fact] = {"person": counted.person.id, "card": card.number, "row": cell[0], "column": cell[1]}
                yield Finding("rework.recount-touched", Severity.STOP, where, {"name": counted.person.name})


def _place(cavity: PackedCavity) -> dict[str, Fact]:
    return {"row": cavity.row, "column": cavity.column, "date": cavity.day, "slot": cavity.slot}


def _fault(code: str, counted: Recounted, request: PlanRequest, key: tuple[_When, MedicineCode], **facts: Fact) -> Finding:
    (day, clock), medicine = key
    label = request.medicines[medicine].label if medicine in request.medicines else medicine
    where: dict[str, Fact] = {"person": counted.person.id, "date": day}
    return Finding(code, Severity.STOP, where, {"name": counted.person.name, "medicine": label, "time": clock, **facts})


def check_units(
    was: Mapping[tuple[MedicineCode, Lot], Fraction],
    drawn: Mapping[tuple[MedicineCode, Lot], Fraction],
    wasted: Mapping[tuple[MedicineCode, Lot], Fraction],
    now: Mapping[tuple[MedicineCode, Lot], Fraction],
) -> tuple[Finding, ...]:
    """Units in the cards before, plus what bottles gave, is waste plus what is in the cards now: for each medicine and lot, exactly (R11).

    Where lots are not known, `Lot("")` stands for all of them together.
    """
    nothing = Fraction(0)
    return tuple(
        Finding("rework.units-differ", Severity.STOP, {"medicine": key[0]}, {"lot": key[1], "expected": came, "found": went})
        for key in sorted({*was, *drawn, *wasted, *now})
        if (came := was.get(key, nothing) + drawn.get(key, nothing)) != (went := wasted.get(key, nothing) + now.get(key, nothing))
    )
