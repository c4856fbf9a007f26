"""A cycle that outlives its cards, and how many of its days could be planned: a plan in, a number of days, or a plan of fewer days out."""

from dataclasses import replace

from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["days_that_keep", "plan_what_keeps", "what_was_cut"]


def days_that_keep(plan: Plan) -> int | None:
    """The most days that nobody's set would outlive, as the plan's findings say; 0 where not even one; None where nothing is refused."""
    possible = [finding.facts.get("days_possible", finding.facts.get("longest")) for finding in plan.findings if finding.code in _REFUSED]
    return min((days for days in possible if isinstance(days, int)), default=None)


_REFUSED = ("beyond-use", "cycle.too-long")


def plan_what_keeps(request: PlanRequest) -> tuple[Plan, PlanRequest]:
    """The plan of as many days as all cards keep, and the request with those days. Where days were cut off, a `note` says how many.

    Everybody gets the same days. Where not even one day is possible the plan is the refused one, as `plan_cycle` gives it.
    """
    asked, plan = request, plan_cycle(request)
    while days := days_that_keep(plan):
        asked = replace(asked, days=days)
        plan = plan_cycle(asked)
    if days is not None:
        return plan_cycle(request), request
    return replace(plan, findings=(*what_was_cut(request, asked), *plan.findings)), asked


def what_was_cut(request: PlanRequest, asked: PlanRequest) -> tuple[Finding, ...]:
    """A `note` of how many days of the request are planned, where they are fewer."""
    facts: dict[str, Fact] = {"asked": request.days, "days": asked.days, "last": asked.last}
    return (Finding("cycle.shortened", Severity.NOTE, {}, facts),) if asked.days < request.days else ()
