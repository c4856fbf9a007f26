"""The best combination of choices over several cards, exactly: each card's choices come in, one choice for each goes out.

Cards of one set share their bottles: a medicine is fetched once, however many cards take it, and halves are cut for all of them from the
fewest whole units. So the cheapest choice card by card need not be the cheapest together. A dynamic programme over the cards: all that the
cards so far mean for the rest is which bottles are open and what part of a unit is needed of each.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from dosewright.core.rework.cost import leftover
from dosewright.core.units.ids import MedicineCode

__all__ = ["Priced", "Shared", "best_combination", "price_together"]

_State = tuple[tuple[MedicineCode, Fraction], ...]  # bottles open, and the part of a unit cut from each so far
_Best = tuple[Fraction, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Priced:
    """One choice for one card or group of cards: its own price, and what it takes from bottles."""

    price: Fraction
    draws: Mapping[MedicineCode, Fraction] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Shared:
    """What is paid for each bottle that is opened, and for each unit of what is left over of a cut one."""

    fetch: Fraction
    leftover: Fraction


def best_combination(cards: Sequence[Sequence[Priced]], shared: Shared) -> tuple[int, ...] | None:
    """For each card the place of its choice in the cheapest combination; of equals the one with the earlier choices. None where a card
    has no choice."""
    states: dict[_State, _Best] = {(): (Fraction(0), ())}
    for choices in cards:
        states = _one_more(states, choices)
    ends = [(price + _end_price(state, shared), chosen) for state, (price, chosen) in states.items()]
    return min(ends)[1] if ends else None


def _one_more(states: Mapping[_State, _Best], choices: Sequence[Priced]) -> dict[_State, _Best]:
    found: dict[_State, _Best] = {}
    for state, (price, chosen) in states.items():
        for at, choice in enumerate(choices):
            then, best = _with(state, choice.draws), (price + choice.price, (*chosen, at))
            if then not in found or best < found[then]:
                found[then] = best
    return found


def _with(state: _State, draws: Mapping[MedicineCode, Fraction]) -> _State:
    parts = dict(state)
    for code, count in draws.items():
        parts[code] = (parts.get(code, Fraction(0)) + count) % 1
    return tuple(sorted(parts.items()))


def _end_price(state: _State, shared: Shared) -> Fraction:
    return len(state) * shared.fetch + sum((leftover(part) for _, part in state), Fraction(0)) * shared.leftover


def price_together(chosen: Sequence[Priced], shared: Shared) -> Fraction:
    """What a combination costs in all."""
    sums: dict[MedicineCode, Fraction] = {}
    for choice in chosen:
        for code, count in choice.draws.items():
            sums[code] = sums.get(code, Fraction(0)) + count
    own = sum((choice.price for choice in chosen), Fraction(0))
    return own + _end_price(tuple((code, count % 1) for code, count in sums.items()), shared)
