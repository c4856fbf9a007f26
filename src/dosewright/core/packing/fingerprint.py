"""The fingerprint that every sheet and screen of a plan prints (R6): request and packed cavities in, hex sha256 out.

Any change of an order, a dose, a cavity, the card format, the profile, a rule or a timetable changes it; the same input gives the same
bytes (R18). Card numbers, proofs and findings are not in it: they follow from what is.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date, time
from fractions import Fraction
from functools import cache
from typing import Any

from dosewright.core.packing.plan_values import Alongside, Card, Content, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import format_amount

__all__ = ["canonical_bytes", "fingerprint", "fingerprint_of_set", "fingerprint_of_sets", "fingerprint_of_setting"]


def canonical_bytes(value: object) -> bytes:
    """The one spelling of a value made of our own values, exact amounts, dates, texts and collections. Raises TypeError for any other."""
    return json.dumps(value, default=_spell, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()


def _spell(value: object) -> object:
    """One step towards plain JSON. A field that is None or an empty tuple is left out, which no other value of it can be taken for."""
    if isinstance(value, Fraction):
        return format_amount(value)
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, frozenset):
        return sorted(value, key=canonical_bytes)
    if isinstance(value, Mapping):
        return dict(value)
    if is_dataclass(value) and not isinstance(value, type):
        said = ((name, getattr(value, name)) for name in _field_names(type(value)))
        return {name: held for name, held in said if held is not None and held != ()}
    raise TypeError(f"no canonical spelling for {type(value).__name__}")


@cache
def _field_names(kind: Any) -> tuple[str, ...]:
    """What a value was made from. A field that it works out for itself (a kept hash) follows from these, and may differ in each process."""
    return tuple(field.name for field in fields(kind) if field.init)


def _digest(value: object) -> str:
    return hashlib.sha256(canonical_bytes(value)).hexdigest()


def fingerprint_of_setting(request: PlanRequest) -> str:
    """What all people's sets share: days, card format, profile, rules."""
    days = (request.first, request.days, request.prepared_on)
    return _digest((days, request.format, request.profile, request.rules, request.pairs, request.spacings, request.label_lines))


def fingerprint_of_set(setting: str, person: Person, request: PlanRequest, cards: Iterable[Card], alongside: Iterable[Alongside]) -> str:
    """One person's set: who, which orders, which products, at which dosing times, and what lies where."""
    orders = request.orders_of(person.id)
    codes = sorted({order.medicine for order in orders})
    ids = {order.id for order in orders}
    return _digest(
        (
            setting,
            person,
            request.timetable_of(person),
            orders,
            [request.medicines.get(code) for code in codes],
            [request.expiries.get(code) for code in codes],
            [answer for answer in request.answers if answer.order in ids],
            [_laid_out(card) for card in cards],
            tuple(alongside),
        )
    )


def _laid_out(card: Card) -> Sequence[object]:
    cavities = [(c.row, c.column, c.day.isoformat(), c.slot, c.time, [_content(one) for one in c.contents]) for c in card.cavities]
    return card.first, card.last, card.beyond_use, card.columns, cavities


def _content(content: Content) -> Sequence[object]:
    count = content.quantity.count
    return content.order, content.medicine, count.numerator, count.denominator, content.quantity.unit


def fingerprint_of_sets(sets: Mapping[str, str]) -> str:
    """The whole plan, from the fingerprint of each person's set; the order of people does not matter."""
    return _digest(sorted(sets.items()))


def fingerprint(plan: Plan, request: PlanRequest) -> str:
    """What the plan's `basis` must be if it is a plan of exactly this request and nothing in it was changed since."""
    setting = fingerprint_of_setting(request)
    people = {person.id: person for person in request.people}
    return fingerprint_of_sets(
        {p.person: fingerprint_of_set(setting, people[p.person], request, p.cards, p.alongside) for p in plan.people if p.person in people}
    )
