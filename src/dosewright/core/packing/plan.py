"""Orders become cards: one request in, everyone's sets for one cycle out, with the fingerprint and everything that was found.

Pure: the same request gives the same plan, byte for byte (R18). People do not depend on each other, so that `plan_person` may run anywhere.
"""

from dosewright.core.packing.fingerprint import fingerprint_of_sets, fingerprint_of_setting
from dosewright.core.packing.person_plan import Planned, plan_person
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.finding import Finding, Severity

__all__ = ["findings_of_request", "plan_cycle", "plan_people"]


def plan_cycle(request: PlanRequest) -> Plan:
    """Plan the cycle for everyone in the request, people in the request's order. An order of nobody in it is a finding."""
    planned = plan_people(request, fingerprint_of_setting(request))
    return Plan(
        basis=fingerprint_of_sets({p.plan.person: p.basis for p in planned}),
        first=request.first,
        days=request.days,
        profile=request.profile.name,
        format=request.format.name,
        people=tuple(p.plan for p in planned),
        findings=(*findings_of_request(request), *(finding for p in planned for finding in p.findings)),
    )


def plan_people(request: PlanRequest, setting: str) -> tuple[Planned, ...]:
    """Everyone in the request, for whom a part of the people and their orders is enough. `setting`: `fingerprint_of_setting`, which that
    part shares with the whole."""
    return tuple(plan_person(person, request, setting) for person in request.people)


def findings_of_request(request: PlanRequest) -> tuple[Finding, ...]:
    """What is found about the cycle and the orders as a whole, before anybody is planned."""
    return (*_begun(request), *_nobodys(request))


def _begun(request: PlanRequest) -> tuple[Finding, ...]:
    """Days before the day of packing are in the past when the card is filled."""
    if request.prepared_on <= request.first:
        return ()
    return (Finding("cycle.begun", Severity.NOTE, {}, {"first": request.first, "prepared": request.prepared_on}),)


def _nobodys(request: PlanRequest) -> tuple[Finding, ...]:
    known = {person.id for person in request.people}
    strangers = (order for order in request.orders if order.person not in known)
    return tuple(Finding("order.of-nobody", Severity.STOP, {"person": order.person, "order": order.id}) for order in strangers)
