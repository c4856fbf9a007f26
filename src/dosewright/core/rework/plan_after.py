"""The plan as it is after a change: the plan and the layouts in, a plan with its own fingerprint out.

Cards that go on keep the cavities that were used already, as the plan had them. People whom nothing touches keep their part unchanged.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan_values import Card, PersonPlan, Plan, Proof
from dosewright.core.rework.after import Laid
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.on_demand import kept_in_cards
from dosewright.core.rework.situation import OpenCard, Situation
from dosewright.core.units.ids import CardNumber

__all__ = ["plan_after"]


def plan_after(plan: Plan, layouts: Sequence[PersonLayout], situation: Situation) -> Plan:
    """The same days, people and rules; the cards as `laid`. Its fingerprint is of the new orders and these cards;
    where no card changes it is the plan that it was."""
    changed = {layout.person.id: layout for layout in layouts}
    people = tuple(_person(one, changed.get(one.person), situation) for one in plan.people)
    if people == plan.people:
        return replace(plan, findings=())
    after = replace(plan, people=people, findings=())
    return replace(after, basis=fingerprint(after, situation.after))


def _person(planned: PersonPlan, layout: PersonLayout | None, situation: Situation) -> PersonPlan:
    if layout is None or layout.held:
        return planned
    opened = {card.number: card for card in situation.cards_of(planned.person)}
    past = tuple(card for card in planned.scheduled if card.number not in opened)
    on_demand = tuple(card for card in planned.cards if card.as_needed)
    cards = (*past, *(_with_used(laid, opened) for laid in layout.laid), *on_demand)
    alongside = kept_in_cards(layout.alongside, on_demand, situation)
    if cards == planned.cards and alongside == planned.alongside:
        return planned
    proof = _no_proof(cards)
    return replace(planned, cards=cards, alongside=alongside, proof=proof)


def _with_used(laid: Laid, opened: Mapping[CardNumber, OpenCard]) -> Card:
    before = opened.get(laid.was) if laid.was else None
    if before is None:
        return laid.card
    now = {(cavity.row, cavity.column) for cavity in laid.card.cavities}
    used = (c for c in before.card.cavities if (c.row, c.column) in before.used and (c.row, c.column) not in now)
    return replace(laid.card, cavities=tuple(sorted((*laid.card.cavities, *used), key=lambda c: (c.row, c.column))))


def _no_proof(cards: Iterable[Card]) -> Proof:
    """Nothing is claimed about the fewest columns of cards that were put right by hand."""
    held = list(cards)
    return Proof(max((len(card.columns) for card in held), default=0), 0, optimal=False, nodes=0, cards=len(held), cards_lower_bound=0)
