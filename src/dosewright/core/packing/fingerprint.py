"""The fingerprint that every sheet and screen of a plan prints (R6): request and packed cavities in, hex sha256 out.

Any change of an order, a dose, a cavity, the card format, the profile, a rule or a timetable changes it; the same input gives the same
bytes (R18). Card numbers, proofs and findings are not in it: they follow from what is.
"""

import hashlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date, time
from fractions import Fraction
from functools import cache, lru_cache
from json.encoder import encode_basestring
from operator import attrgetter
from typing import Any

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.suitability import Rules
from dosewright.core.packing.plan_values import Alongside, Card, CardColumn, Content, PackedCavity, PersonPlan, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.directions import Directions, directions_of
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import format_amount

__all__ = ["canonical_bytes", "fingerprint", "fingerprint_of_set", "fingerprint_of_sets", "fingerprint_of_setting", "fingerprints_of_sets"]


class _Spelled(str):
    """What stands in its canonical spelling already."""

    __slots__ = ()


def canonical_bytes(value: object) -> bytes:
    """The one spelling of a value made of our own values, exact amounts, dates, texts and collections. Raises TypeError for any other.

    It is JSON without blanks, keys sorted, and what `json` would write of the same; put together here, because a plan spells thousands of
    cavities and the same few hundred medicines, directions and contents over and over.
    """
    return _spelled(value).encode()


def _spelled(value: object) -> str:
    kind: Any = type(value)
    return _speller_of(kind)(value)


@cache
def _speller_of(kind: Any) -> Callable[[Any], str]:
    """How values of one type are written."""
    for known, speller in _SPELLERS:
        if issubclass(kind, known):
            return speller
    return _spell_object if is_dataclass(kind) else _refuse


_quoted = encode_basestring


def _refuse(value: object) -> str:
    raise TypeError(f"no canonical spelling for {type(value).__name__}")


def _spell_amount(amount: Fraction) -> str:
    return f'"{format_amount(amount)}"'


def _spell_moment(moment: date | time) -> str:
    return f'"{moment.isoformat()}"'


def _spell_list(values: Sequence[object]) -> str:
    return f"[{','.join([_spelled(value) for value in values])}]"


def _spell_set(values: frozenset[object]) -> str:
    return f"[{','.join(sorted(map(_spelled, values), key=str.encode))}]"


def _spell_mapping(values: Mapping[Any, object]) -> str:
    return f"{{{','.join([f'{_quoted(str(key))}:{_spelled(values[key])}' for key in sorted(values)])}}}"


def _spell_truth(value: object) -> str:
    return "true" if value else "false"


def _spell_object(value: object) -> str:
    """A field that is None or an empty tuple is left out, which no other value of it can be taken for."""
    kind: Any = type(value)
    said = [(key, getattr(value, name)) for name, key in _field_names(kind)]
    return f"{{{','.join([key + _spelled(held) for key, held in said if not (held is None or (held.__class__ is tuple and not held))])}}}"


@cache
def _field_names(kind: Any) -> tuple[tuple[str, str], ...]:
    """What a value was made from, each name with its key as it is written. A field that it works out for itself (a kept hash) follows from
    these, and may differ in each process."""
    return tuple((name, f'"{name}":') for name in sorted(field.name for field in fields(kind) if field.init))


@lru_cache(maxsize=16384)
def _spell_medicine(medicine: Medicine) -> str:
    return _spell_object(medicine)


@lru_cache(maxsize=256)
def _spell_timetable(timetable: Timetable) -> str:
    return _spell_object(timetable)


@lru_cache(maxsize=4096)
def _spell_column(column: CardColumn) -> str:
    """Everyone's cards in one cycle share their columns' heads."""
    return _spell_object(column)


@lru_cache(maxsize=64)
def _spell_rules(rules: Rules) -> str:
    return _spell_object(rules)


@lru_cache(maxsize=8192)
def _spell_directions(directions: Directions) -> str:
    return _spell_list(directions.dosages)


def _spell_order(order: Order) -> str:
    """As any other value; its directions are spelled once for all orders that share them."""
    said = zip(_field_names(Order), _fields_of(order), strict=True)
    kept = [key + _of_order(name, held) for (name, key), held in said if not (held is None or (held.__class__ is tuple and not held))]
    return f"{{{','.join(kept)}}}"


_fields_of = attrgetter(*(name for name, _ in _field_names(Order)))


def _of_order(name: str, held: Any) -> str:
    return _spell_directions(directions_of(held)) if name == "dosages" else _spelled(held)


_SPELLERS: tuple[tuple[type, Callable[[Any], str]], ...] = (
    (_Spelled, str),
    (str, _quoted),
    (bool, _spell_truth),
    (int, int.__repr__),
    (type(None), lambda _: "null"),
    (Fraction, _spell_amount),
    (date, _spell_moment),
    (time, _spell_moment),
    (tuple, _spell_list),
    (list, _spell_list),
    (frozenset, _spell_set),
    (Mapping, _spell_mapping),
    (Medicine, _spell_medicine),
    (CardColumn, _spell_column),
    (Timetable, _spell_timetable),
    (Rules, _spell_rules),
    (Order, _spell_order),
)


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
    known = _Known()
    return _digest(
        (
            setting,
            person,
            request.timetable_of(person),
            orders,
            [request.medicines.get(code) for code in codes],
            [request.expiries.get(code) for code in codes],
            [answer for answer in request.answers if answer.order in ids],
            [_laid_out(card, known) for card in cards],
            tuple(alongside),
        )
    )


_Known = dict[tuple[int, str, time], str]  # what ends a cavity's spelling, by its very contents and its dosing time


def _laid_out(card: Card, known: _Known) -> Sequence[object]:
    return card.first, card.last, card.beyond_use, card.columns, _Spelled(_spell_cavities(card.cavities, known))


def _spell_cavities(cavities: Iterable[PackedCavity], known: _Known) -> str:
    """As a list of lists: row, column, day, dosing time, clock time, contents. Most cavities share their contents with other days."""
    spelled = []
    for c in cavities:
        key = id(c.contents), c.slot, c.time
        if (rest := known.get(key)) is None:
            rest = known[key] = f"{_spelled(c.slot)},{_spell_moment(c.time)},[{','.join(map(_spell_content, c.contents))}]]"
        spelled.append(f'[{c.row!r},{c.column!r},"{c.day.isoformat()}",{rest}')
    return f"[{','.join(spelled)}]"


def _spell_content(content: Content) -> str:
    """As a list: order, medicine, how many as two whole numbers, of what unit."""
    above, below = content.quantity.count.as_integer_ratio()
    return f"[{_quoted(content.order)},{_quoted(content.medicine)},{above!r},{below!r},{_quoted(content.quantity.unit)}]"


def fingerprint_of_sets(sets: Mapping[PersonId, str]) -> str:
    """The whole plan, from the fingerprint of each person's set; the order of people does not matter. Spelled as the list of pairs that it
    is, one at a time: a hundred thousand people's spelling is not held at once."""
    made = hashlib.sha256(b"[")
    for at, person in enumerate(sorted(sets)):
        made.update(b"," * bool(at) + canonical_bytes((person, sets[person])))
    made.update(b"]")
    return made.hexdigest()


def fingerprint(plan: Plan, request: PlanRequest) -> str:
    """What the plan's `basis` must be if it is a plan of exactly this request and nothing in it was changed since."""
    return fingerprint_of_sets(fingerprints_of_sets(plan.people, request, fingerprint_of_setting(request)))


def fingerprints_of_sets(sets: Iterable[PersonPlan], request: PlanRequest, setting: str) -> dict[PersonId, str]:
    """What each person's own fingerprint must be, as these sets are. `setting`: `fingerprint_of_setting`."""
    people = {person.id: person for person in request.people}
    known = ((p, people[p.person]) for p in sets if p.person in people)
    return {p.person: fingerprint_of_set(setting, person, request, p.cards, p.alongside) for p, person in known}
