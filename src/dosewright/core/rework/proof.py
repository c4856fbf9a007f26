"""A laid-out change put to the recount: what the person's cards then hold, and what became of every unit, as the recount wants it.

Comes in: one person's layout and the situation. Goes out: the recount's findings, none where the cards then are exactly right.
"""

from collections.abc import Iterable
from fractions import Fraction

from dosewright.core.packing.plan_values import PackedCavity
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.recount import Recounted, check_change, check_units
from dosewright.core.rework.situation import OpenCard, Situation, taken_early
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import Lot, MedicineCode

__all__ = ["check_layout"]

_Units = dict[tuple[MedicineCode, Lot], Fraction]


def check_layout(layout: PersonLayout, situation: Situation) -> tuple[Finding, ...]:
    """Every fault of the cards as they will be. A person whose change is held has no such cards yet."""
    if layout.held:
        return ()
    cards = situation.cards_of(layout.person.id)
    at = situation.at
    counted = Recounted(
        person=layout.person,
        cards=tuple(laid.card for laid in layout.laid if not laid.waiting),
        waiting=tuple(laid.card for laid in layout.laid if laid.waiting),
        alongside=layout.alongside,
        given=taken_early(cards, at),
        earlier={card.number: tuple(c for c in card.left() if Moment(c.day, c.time) < at) for card in cards},
        forms={card.number: card.form for card in cards if card.form},
    )
    return (*check_change(counted, situation.after, at), *_check_all_units(layout, cards))


def _check_all_units(layout: PersonLayout, cards: Iterable[OpenCard]) -> tuple[Finding, ...]:
    """Lots are known only once the work is done; before it, each medicine is counted over all of them."""
    drawn: _Units = {}
    wasted: _Units = {}
    for choice in layout.chosen:
        _add(drawn, choice.cost.drawn.items())
        _add(wasted, choice.cost.waste.items())
    was = _held(card.left() for card in cards)
    return check_units(was, drawn, wasted, _held(laid.card.cavities for laid in layout.laid))


def _held(cavities: Iterable[Iterable[PackedCavity]]) -> _Units:
    units: _Units = {}
    _add(units, ((x.medicine, x.quantity.count) for card in cavities for cavity in card for x in cavity.contents))
    return units


def _add(units: _Units, found: Iterable[tuple[MedicineCode, Fraction]]) -> None:
    for code, count in found:
        units[code, Lot("")] = units.get((code, Lot("")), Fraction(0)) + count
