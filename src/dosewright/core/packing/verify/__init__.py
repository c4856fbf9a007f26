"""The independent recount: a plan and the request it claims to come from in, every difference out as a finding. Holds R1–R5 and R15.

It shares nothing with the solver or with what makes cards: doses come from `regimen.expand` again, amounts are compared as substance,
volumes are made with other formulas and a nearer pi, footprints by trying every way a unit can lie. An empty answer means: right.
"""

from collections.abc import Iterable

from dosewright.core.packing.plan_values import PersonPlan, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.dates import check_dates
from dosewright.core.packing.verify.doses import check_doses
from dosewright.core.packing.verify.expected import expected_of
from dosewright.core.packing.verify.naming import check_naming
from dosewright.core.packing.verify.neighbours import check_cavities
from dosewright.core.packing.verify.on_demand import check_on_demand
from dosewright.core.packing.verify.places import check_places
from dosewright.core.packing.verify.said import check_said, check_what_follows
from dosewright.core.packing.verify.setting import check_numbers_follow, check_setting, check_whole
from dosewright.core.units.finding import Finding
from dosewright.core.units.person import Person

__all__ = ["check_numbers_follow", "check_whole", "recount_sets", "verify"]


def verify(plan: Plan, request: PlanRequest) -> tuple[Finding, ...]:
    """Every fault of the plan, each a `stop` that names person, day, dosing time, medicine, expected and found as far as they apply."""
    return (*check_setting(plan, request), *recount_sets(plan.people, request))


def recount_sets(sets: Iterable[PersonPlan], request: PlanRequest) -> tuple[Finding, ...]:
    """The faults inside some people's sets, for which a request about those people is enough. The whole is `check_whole`."""
    people = {person.id: person for person in request.people}
    known = ((planned, people[planned.person]) for planned in sets if planned.person in people)
    return tuple(found for planned, person in known for found in _recount(planned, person, request))


def _recount(planned: PersonPlan, person: Person, request: PlanRequest) -> list[Finding]:
    expected = expected_of(person, request)
    found = [
        *check_doses(planned, person, expected, request),
        *check_naming(planned, person, expected, request),
        *check_places(planned, person, request),
        *check_on_demand(planned, person, expected, request),
        *check_cavities(planned, person, request),
        *check_dates(planned, person, request),
        *check_said(planned, person, request),
    ]
    return found or list(check_what_follows(planned, person, request))
