"""One set's plan after a decided change: its plan, the request with the new orders and the layout come in, the plan that counts goes out.

Cards that are put right are as they will be; those that are replaced are gone from it; those that are called back stay as they were until
they are here. Nothing is claimed about the fewest columns of what was put right by hand.
"""

from collections.abc import Iterable
from dataclasses import replace

from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan_values import Card, PersonPlan, Plan, Proof
from dosewright.core.packing.request import PlanRequest
from dosewright.core.rework.choices import REPLACED
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.tasks import CardTask

__all__ = ["new_plan", "request_after", "set_after"]

_NOT_YET = frozenset({"recall", "wait"})


def request_after(request: PlanRequest, now: PlanRequest) -> PlanRequest:
    """The set's own days, with the orders, products, dosing times and rules as they are now.

    A set of another card format than is used now, by its name, keeps it, and the rules that it was planned by: what is printed for it must
    fit its cards.
    """
    after = replace(now, first=request.first, days=request.days, places=request.places, weeks_a_card=request.weeks_a_card)
    if request.format.name == now.format.name:
        return after
    rules = {name: getattr(request, name) for name in ("format", "profile", "rules", "pairs", "spacings", "label_lines")}
    return replace(after, **rules)


def set_after(plan: Plan, request: PlanRequest, layout: PersonLayout, tasks: Iterable[CardTask]) -> Plan:
    """The plan with the tasks done; `request` is `request_after`."""
    by_card = {task.card: task for task in tasks}
    (mine,) = plan.people
    cards = tuple(card for one in mine.cards if (card := _card(one, by_card.get(one.number))) is not None)
    proof = mine.proof if cards == mine.cards else _no_proof(cards)
    person = replace(mine, cards=cards, alongside=layout.alongside, proof=proof)
    after = replace(plan, people=(person,), findings=(), profile=request.profile.name, format=request.format.name)
    return replace(after, basis=fingerprint(after, request))


def new_plan(layout: PersonLayout, cards: tuple[Card, ...], request: PlanRequest) -> Plan:
    """A plan of the new cards alone, which are a set of their own."""
    person = PersonPlan(layout.person.id, cards, layout.alongside, _no_proof(cards))
    plan = Plan("", request.first, request.days, request.profile.name, request.format.name, (person,), ())
    return replace(plan, basis=fingerprint(plan, request))


def _card(card: Card, task: CardTask | None) -> Card | None:
    if task is None or task.deed in _NOT_YET or task.after is None:
        return None if task is not None and task.deed in REPLACED else card
    return task.after


def _no_proof(cards: tuple[Card, ...]) -> Proof:
    return Proof(max((len(card.columns) for card in cards), default=0), 0, optimal=False, nodes=0, cards=len(cards), cards_lower_bound=0)
