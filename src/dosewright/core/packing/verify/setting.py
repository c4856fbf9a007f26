"""Whether the plan is of this request at all: days, format, profile, people, card numbers, and the fingerprint over everything (R6)."""

from collections import Counter
from collections.abc import Iterable

from dosewright.core.packing.card_number import right_card_number
from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, PersonId

__all__ = ["check_setting", "check_whole"]


def check_setting(plan: Plan, request: PlanRequest) -> Iterable[Finding]:
    """Differences of the plan as a whole, then of the people in it, then of its card numbers."""
    numbers = [card.number for one in plan.people for card in one.cards]
    return check_whole(plan, [one.person for one in plan.people], numbers, fingerprint(plan, request), request)


def check_whole(
    head: Plan, people: Iterable[PersonId], numbers: Iterable[CardNumber], right: str, request: PlanRequest
) -> Iterable[Finding]:
    """The same where the sets themselves were counted elsewhere: whose there are, the numbers of their cards, and the fingerprint that is
    right for all of them (`right`)."""
    asked: dict[str, Fact] = {
        "first": request.first,
        "days": request.days,
        "format": request.format.name,
        "profile": request.profile.name,
        "fingerprint": right,
    }
    said: dict[str, Fact] = {
        "first": head.first,
        "days": head.days,
        "format": head.format,
        "profile": head.profile,
        "fingerprint": head.basis,
    }
    for what, expected in asked.items():
        if said[what] != expected:
            yield _stop("setting-differs", {}, what=what, expected=expected, found=said[what])
    yield from _check_people(people, request)
    yield from _check_numbers(numbers)


def _check_people(people: Iterable[PersonId], request: PlanRequest) -> Iterable[Finding]:
    planned = Counter(people)
    for person in request.people:
        if planned[person.id] != 1:
            yield _stop("person-missing" if not planned[person.id] else "person-twice", {"person": person.id}, name=person.name)
    for stranger in sorted(planned.keys() - {person.id for person in request.people}):
        yield _stop("person-unknown", {"person": stranger})


def _check_numbers(all_numbers: Iterable[CardNumber]) -> Iterable[Finding]:
    numbers = Counter(all_numbers)
    for number, times in numbers.items():
        if times > 1 or not right_card_number(number):
            yield _stop("card-number-wrong", {"card": number}, times=times)


def _stop(code: str, where: dict[str, Fact], **facts: Fact) -> Finding:
    return Finding(f"verify.{code}", Severity.STOP, where, facts)
