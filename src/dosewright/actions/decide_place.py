"""A pharmacist decides for one person's order where its medicine goes in spite of a rule: into a card, or alongside."""

from typing import Literal

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.medicines.suitability import Standing, holds_back, rules_about
from dosewright.core.packing.request import Answer
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId
from dosewright.store.answers import save_answers
from dosewright.store.ledger import append_entry
from dosewright.store.orders import lock_order
from dosewright.store.pharmacy import load_pharmacy, load_rules

__all__ = ["decide_place"]


@doing(Ability.ANSWER_FINDING, "order")
def decide_place(order: OrderId, on: Occasion, choice: Literal["card", "alongside"], reason: str) -> Outcome:
    """From the next plan on, for as long as the rule reads as it does now. What a rule excludes stays out, whatever anyone says."""
    stored = lock_order(order)
    rule = holds_back(rules_about(stored.medicine, load_rules(load_pharmacy().rules).suitability))
    if rule is None or rule.standing is Standing.EXCLUDED:
        said: dict[str, Fact] = {"medicine": stored.medicine.label, "rule": rule.id if rule else ""}
        return not_done((Finding("rules.nothing-to-decide", Severity.STOP, {"order": order}, said),))
    if not reason.strip():
        return not_done((Finding("custody.no-reason", Severity.STOP, {"order": order}),))
    save_answers([Answer(order, rule.id, rule.dated, choice, reason.strip())])
    facts: dict[str, Fact] = {"rule": rule.id, "dated": rule.dated, "choice": choice, "reason": reason.strip()}
    append_entry(on, "place decided", ("order", order), facts)
    return done()
