"""Whether the plan is of this request at all: days, format, profile, people, card numbers, and the fingerprint over everything (R6)."""

from collections import Counter
from collections.abc import Iterable, Mapping

from dosewright.core.packing.card_number import make_card_number, right_card_number
from dosewright.core.packing.fingerprint import fingerprint_of_sets, fingerprint_of_setting, fingerprints_of_sets
from dosewright.core.packing.plan_values import PersonPlan, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.fault import fault
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, PersonId

__all__ = ["check_numbers_follow", "check_setting", "check_whole"]


def check_setting(plan: Plan, request: PlanRequest) -> Iterable[Finding]:
    """Differences of the plan as a whole, then of the people in it, then of its card numbers."""
    numbers = [card.number for one in plan.people for card in one.cards]
    bases = fingerprints_of_sets(plan.people, request, fingerprint_of_setting(request))
    right = fingerprint_of_sets(bases)
    yield from check_whole(plan, [one.person for one in plan.people], numbers, right, request)
    if plan.basis == right:
        yield from check_numbers_follow(plan.people, bases, request)


def check_numbers_follow(sets: Iterable[PersonPlan], bases: Mapping[PersonId, str], request: PlanRequest) -> Iterable[Finding]:
    """Each card's number follows from its set and its place in it, so that cards whose numbers were exchanged are found. Of sets with a
    right fingerprint only: of a changed set nobody can tell which numbers it should have."""
    people = {person.id: person for person in request.people}
    for one in (one for one in sets if one.person in people):
        for at, card in enumerate(one.cards, start=1):
            expected = make_card_number(request.salt, bases[one.person], str(at))
            if card.number != expected and right_card_number(card.number):
                yield fault("card-number-differs", people[one.person], {"card": card.number}, expected=expected)


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
