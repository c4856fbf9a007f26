"""One substance ordered more than once: a person's orders and counted doses in, findings out. Nothing is changed by them.

The same product twice at one dosing time, under one code or two, and a substance that is in a product of several as well as elsewhere,
are questions: an old order that was not stopped looks just like this. Two strengths or forms of one substance are common, and worth
knowing. Source: common practice, no source; ceased orders still supplied are among the commonest faults of published audits.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from functools import lru_cache
from itertools import combinations

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import words_of
from dosewright.core.medicines.substances import product_of, same_substance, substances_of
from dosewright.core.medicines.suitability import Rules
from dosewright.core.packing.placing import UnitSeries
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["check_ingredients"]

_Moments = frozenset[tuple[date, time]]
_Held = tuple[Order, Medicine]


@dataclass(frozen=True, slots=True)
class _Supplied:
    """One order that is supplied: its product, what is in it, and when it is taken; no moments where it lies in no card."""

    order: Order
    medicine: Medicine
    substances: tuple[str, ...]
    moments: _Moments


def check_ingredients(person: Person, supplied: Iterable[Order], series: Sequence[UnitSeries], request: PlanRequest) -> tuple[Finding, ...]:
    """Every two of the orders supplied in this cycle, in a card or alongside, that hold one substance and may be taken on one day."""
    held = [(order, medicine) for order in supplied if (medicine := request.medicines.get(order.medicine))]
    sharing = [pair for pair in _perhaps_sharing(held, request.rules) if _shared(pair[0][1], pair[1][1], request.rules)]
    if not sharing:
        return ()
    moments: dict[OrderId, set[tuple[date, time]]] = {}
    for one in series:
        moments.setdefault(one.order, set()).update((day, one.time) for day in one.days)
    known = {
        order.id: _Supplied(order, medicine, _substances(medicine, request.rules), frozenset(moments.get(order.id, ())))
        for order, medicine in held
    }
    pairs = ((known[one.id], known[other.id]) for (one, _), (other, _) in sharing)
    return tuple(found for one, other in pairs for found in _check(person, one, other, request.rules))


def _perhaps_sharing(held: Sequence[_Held], rules: Rules) -> Iterable[tuple[_Held, _Held]]:
    """All pairs, or none where no first word of a substance comes twice: one substance's name begins with all of the other's."""
    first_words = [_first_words(medicine, rules) for _, medicine in held]
    return combinations(held, 2) if len(frozenset().union(*first_words)) < sum(map(len, first_words)) else ()


@lru_cache(maxsize=16384)
def _first_words(medicine: Medicine, rules: Rules) -> frozenset[str]:
    return frozenset(words[0] for name in _substances(medicine, rules) if (words := words_of(name)))


@lru_cache(maxsize=16384)
def _substances(medicine: Medicine, rules: Rules) -> tuple[str, ...]:
    return substances_of(medicine, rules.blends)


def _check(person: Person, one: _Supplied, other: _Supplied, rules: Rules) -> tuple[Finding, ...]:
    shared = _shared(one.medicine, other.medicine, rules)
    if not _on_one_day(one, other):
        return ()
    code, severity = _judge(one, other)
    facts: dict[str, Fact] = {"other_order": other.order.id, "other": other.medicine.label, "substance": shared}
    about: dict[str, Fact] = {"name": person.name, "medicine": one.medicine.label}
    return (Finding(code, severity, {"person": person.id, "order": one.order.id}, {**about, **facts}),)


@lru_cache(maxsize=65536)
def _shared(one: Medicine, other: Medicine, rules: Rules) -> str:
    """The first substance that both hold; "" where there is none."""
    return next((name for name in _substances(one, rules) if any(same_substance(name, held) for held in _substances(other, rules))), "")


def _on_one_day(one: _Supplied, other: _Supplied) -> bool:
    """Whether both may be taken on the same day: as counted; where one is not counted, where both are in force at some time."""
    if one.moments and other.moments:
        return bool({day for day, _ in one.moments} & {day for day, _ in other.moments})
    return _begins_before_end(one.order, other.order) and _begins_before_end(other.order, one.order)


def _begins_before_end(one: Order, other: Order) -> bool:
    return one.since is None or other.until is None or one.since < other.until


def _one_product(one: _Supplied, other: _Supplied) -> bool:
    """One name, or one with more words than the other ("bisoprolol", "bisoprolol fumarate"), in one strength and form."""
    (_, *one_is), (_, *other_is) = product_of(one.medicine), product_of(other.medicine)
    alike = len(one.substances) == len(other.substances) and all(map(same_substance, one.substances, other.substances))
    return alike and one_is == other_is


def _judge(one: _Supplied, other: _Supplied) -> tuple[str, Severity]:
    if _one_product(one, other):
        together = one.moments & other.moments
        return ("duplicate.same-time", Severity.DECIDE) if together else ("duplicate.same-product", Severity.NOTE)
    if len(one.substances) > 1 or len(other.substances) > 1:
        return "duplicate.in-a-blend", Severity.DECIDE
    return "duplicate.substance", Severity.NOTE
