"""May this person's days be planned, and may this plan be kept?"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from dosewright.core.custody.answering import unanswered
from dosewright.core.packing.plan_values import Card, Plan
from dosewright.core.packing.request import Answer
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["LONGEST", "PlanAsk", "check_cycle", "check_days_free", "check_plan", "check_settled", "facts_of_plan"]


LONGEST = 92  # days in one set: a quarter; beyond it no profile's beyond-use date reaches


@dataclass(frozen=True, slots=True)
class PlanAsk:
    """Which days; what the pharmacist answered about rules; and the reasons (by `finding_key`) why it goes on in spite of a `decide`."""

    first: date
    days: int
    answers: tuple[Answer, ...] = ()
    reasons: Mapping[str, str] = field(default_factory=dict)

    @property
    def last(self) -> date:
        """The cycle's last day."""
        return self.first + timedelta(days=self.days - 1)


def facts_of_plan(plan: Plan, ask: PlanAsk) -> dict[str, Fact]:
    """What the ledger keeps of a planned set: whose, which days, the fingerprint, and every answer and reason with what it answers."""
    answers = tuple(f"{answer.order} {answer.about} ({answer.dated}): {answer.choice}: {answer.reason}" for answer in ask.answers)
    reasons = tuple(f"{key}: {reason}" for key, reason in sorted(ask.reasons.items()))
    whose = tuple(person.person for person in plan.people)
    return {"people": whose, "first": plan.first, "days": plan.days, "basis": plan.basis, "answers": answers, "reasons": reasons}


def check_cycle(ask: PlanAsk) -> tuple[Finding, ...]:
    """A stop for a cycle of no days, or of more than `LONGEST`."""
    if 1 <= ask.days <= LONGEST:
        return ()
    return (Finding("custody.days-out-of-range", Severity.STOP, facts={"days": ask.days, "longest": LONGEST}),)


def check_days_free(ask: PlanAsk, open_cards: Iterable[Card]) -> tuple[Finding, ...]:
    """Find every open card of the person on any of these days: a dose must not be in two places (R1)."""
    return tuple(
        Finding("custody.days-already-planned", Severity.STOP, {"card": card.number}, {"last": card.last})
        for card in open_cards
        if card.first <= ask.last and ask.first <= card.last
    )


def check_settled(ask: PlanAsk, waiting: Iterable[Order]) -> tuple[Finding, ...]:
    """Find every order that still waits for a pharmacist and may have a dose on these days: it must not be left out in silence (R1)."""
    return tuple(
        Finding("custody.order-waits", Severity.STOP, {"order": order.id})
        for order in waiting
        if (order.since is None or order.since.day <= ask.last) and (order.until is None or order.until > Moment(ask.first))
    )


def check_plan(plan: Plan, recount: Iterable[Finding], reasons: Mapping[str, str]) -> tuple[Finding, ...]:
    """What keeps the plan from being kept: every `stop` of planner or recount, every `decide` without a reason, a plan of nothing."""
    return tuple(_check_plan(plan, tuple(recount), reasons))


def _check_plan(plan: Plan, recount: tuple[Finding, ...], reasons: Mapping[str, str]) -> Iterator[Finding]:
    found = plan.findings + tuple(finding for finding in recount if finding not in plan.findings)
    yield from (finding for finding in found if finding.severity is Severity.STOP)
    yield from unanswered(found, reasons)
    if not any(person.cards or person.alongside for person in plan.people):
        yield Finding("custody.nothing-to-plan", Severity.STOP)
