"""The second person's check: their own counts against the orders."""

from dataclasses import dataclass, field

from dosewright.actions.check_plan import load_check_plan
from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.checking.check_plan import CheckPlan
from dosewright.core.checking.counts import Counts, check_counts
from dosewright.core.checking.disturbed import ByMedicine, check_disturbed
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.last_days import check_last_days
from dosewright.core.checking.recalled import check_recalled
from dosewright.core.checking.same_hands import Alone, check_same_hands
from dosewright.core.custody.cells import format_spots
from dosewright.core.custody.counted_before import check_unmoved
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Fact, Finding, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.cards import StoredCard, lock_card, save_event
from dosewright.store.pharmacy import load_rules
from dosewright.store.stock import load_recalled_lots

__all__ = ["OwnCheck", "check_card", "may_check"]


@dataclass(frozen=True, slots=True)
class OwnCheck:
    """What the checker counted in each cavity that the check plan demands, and in others if they like; and the reason why they check alone
    what they filled ("" where they did not fill it).

    `opened`: what they counted, medicine by medicine, in each cavity that was opened to be put right. `seen`: how many events the card had
    when the counting began, None where nothing lies between.
    """

    counts: Counts
    alone_because: str = ""
    opened: ByMedicine = field(default_factory=dict)
    seen: int | None = None


def may_check(card: StoredCard, on: Occasion, alone_because: str = "") -> tuple[Finding, ...]:
    """What keeps this person from checking this card at all: its stage, its orders (R9), a recalled lot in it, or their own hands (R8)."""
    allowed = load_rules(card.rules).profile.allows("one_person_may_check")
    alone = Alone(allowed, alone_because, card.state.last_touched or on.at, on.at)
    held = check_follows(card.state, Deed.CHECKED) + check_recalled(card.filled, load_recalled_lots())
    return held + check_same_hands(card.state.fillers, on.by.id, alone)


@doing(Ability.CHECK_CARD, "card")
def check_card(number: CardNumber, on: Occasion, own: OwnCheck) -> Outcome:
    """The card is accepted, to be sealed; refused to the filler's own hands (R8), and while a count differs or it is out of date (R9)."""
    card = lock_card(number)
    findings = may_check(card, on, own.alone_because) + check_unmoved(card.state, own.seen)
    plan = load_check_plan(card, on.by)
    findings += check_counts(card.filled, own.counts, plan.demanded) + check_filling(card.filled) + check_last_days(card.filled)
    findings += check_disturbed(card.filled, card.state.disturbed, own.opened)
    if blocks(findings):
        return not_done(findings)
    facts: dict[str, Fact] = {"cavities": len(own.counts), "alone because": own.alone_because}
    opened: dict[str, Fact] = {"opened": len(card.state.disturbed)} if card.state.disturbed else {}
    save_event(card, Deed.CHECKED, on, {**facts, **opened, **_choice(plan, own.counts)})
    return done(findings)


def _choice(plan: CheckPlan, counts: Counts) -> dict[str, Fact]:
    """What the ledger keeps of a check that left cavities uncounted: which were counted, how they were drawn, what such a draw misses."""
    if plan.cavities <= counts.keys():
        return {}
    return {
        "of": len(plan.cavities),
        "counted": format_spots(counts),
        "always": len(plan.always),
        "drawn": len(plan.drawn),
        "others": plan.others,
        "percent": plan.draw.percent,
        "seed": plan.draw.seed,
        "missed if one is wrong": plan.missed(1),
    }
