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

from dosewright.core.packing.plan_values import Alongside, Card, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import format_amount

__all__ = ["canonical_bytes", "fingerprint", "fingerprint_of_set", "fingerprint_of_sets", "fingerprint_of_setting"]

_Json = str | int | bool | None | list["_Json"] | dict[str, "_Json"]


def canonical_bytes(value: object) -> bytes:
    """The one spelling of a value made of our own values, exact amounts, dates, texts and collections. Raises TypeError for any other."""
    return json.dumps(_plain(value), ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()


def _plain(value: object) -> _Json:
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, Fraction):
        return format_amount(value)
    if isinstance(value, date | time):
        return value.isoformat()
    return _plain_many(value)


def _plain_many(value: object) -> _Json:
    if isinstance(value, tuple | list):
        return [_plain(entry) for entry in value]
    if isinstance(value, frozenset):
        return sorted((_plain(entry) for entry in value), key=str)
    if isinstance(value, Mapping):
        return {canonical_bytes(key).decode(): _plain(entry) for key, entry in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    raise TypeError(f"no canonical spelling for {type(value).__name__}")


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
    cavities = [(c.row, c.column, c.day, c.slot, c.time, c.contents) for c in card.cavities]
    return card.first, card.last, card.beyond_use, card.columns, cavities


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
