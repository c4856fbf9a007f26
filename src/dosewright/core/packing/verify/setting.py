"""Whether the plan is of this request at all: days, format, profile, people, card numbers, and the fingerprint over everything (R6)."""

from collections import Counter
from collections.abc import Iterable

from dosewright.core.packing.card_number import right_card_number
from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["check_setting"]


def check_setting(plan: Plan, request: PlanRequest) -> Iterable[Finding]:
    """Differences of the plan as a whole, then of the people in it, then of its card numbers."""
    asked: dict[str, Fact] = {
        "first": request.first,
        "days": request.days,
        "format": request.format.name,
        "profile": request.profile.name,
        "fingerprint": fingerprint(plan, request),
    }
    said: dict[str, Fact] = {
        "first": plan.first,
        "days": plan.days,
        "format": plan.format,
        "profile": plan.profile,
        "fingerprint": plan.basis,
    }
    for what, expected in asked.items():
        if said[what] != expected:
            yield _stop("setting-differs", {}, what=what, expected=expected, found=said[what])
    yield from _check_people(plan, request)
    yield from _check_numbers(plan)


def _check_people(plan: Plan, request: PlanRequest) -> Iterable[Finding]:
    planned = Counter(one.person for one in plan.people)
    for person in request.people:
        if planned[person.id] != 1:
            yield _stop("person-missing" if not planned[person.id] else "person-twice", {"person": person.id}, name=person.name)
    for stranger in sorted(planned.keys() - {person.id for person in request.people}):
        yield _stop("person-unknown", {"person": stranger})


def _check_numbers(plan: Plan) -> Iterable[Finding]:
    numbers = Counter(card.number for one in plan.people for card in one.cards)
    for number, times in numbers.items():
        if times > 1 or not right_card_number(number):
            yield _stop("card-number-wrong", {"card": number}, times=times)


def _stop(code: str, where: dict[str, Fact], **facts: Fact) -> Finding:
    return Finding(f"verify.{code}", Severity.STOP, where, facts)
