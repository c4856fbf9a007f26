"""What the check of a card demands of one checker: asked for before the counts are typed, and again when they are judged."""

from dosewright.core.checking.check_plan import ALL, CheckPlan, Draw, Marks, Whole, plan_check
from dosewright.core.custody.event import Actor
from dosewright.core.custody.state import CardState
from dosewright.core.medicines.high_risk import alike_in, is_high_risk
from dosewright.devices.high_risk import load_high_risk
from dosewright.store.cards import StoredCard
from dosewright.store.catalogue import load_catalogue
from dosewright.store.ledger import count_has_differed
from dosewright.store.pharmacy import load_rules

__all__ = ["load_check_plan"]


def load_check_plan(card: StoredCard, by: Actor) -> CheckPlan:
    """The plan as things stand. Every cavity, unless the profile that the card was planned under lets a checker choose; every cavity all
    the same of a card that was sent back, in which a count has differed, or that its own filler checks."""
    percent = load_rules(card.rules).profile.counted_percent
    if percent == ALL:
        return plan_check(card.filled, Marks(), Draw())
    return plan_check(card.filled, _marks(card), Draw(percent, card.state.check_seed, _whole(card, by)))


def _whole(card: StoredCard, by: Actor) -> Whole | None:
    state: CardState = card.state
    if state.sent_back:
        return Whole.SENT_BACK
    if by.id in state.fillers:
        return Whole.ALONE
    return Whole.DIFFERED if count_has_differed(card.number) else None


def _marks(card: StoredCard) -> Marks:
    medicines = load_catalogue({content.medicine for cavity in card.card.cavities for content in cavity.contents})
    rules, listed = load_rules(card.rules).suitability, load_high_risk()
    return Marks(
        risky=frozenset(code for code, one in medicines.items() if is_high_risk(one, rules, listed)),
        alike=alike_in(medicines.values()),
        corrected=card.state.corrected,
        unscanned=card.state.unscanned,
        opened=card.state.disturbed,
    )
