"""Some people's sets of a plan file, recounted by themselves: lines of the file in, faults and what the whole needs of them out.

Runs in any process. Shares nothing with planning but the request.
"""

import pickle
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from dosewright.core.interop.plan_json import parse_person
from dosewright.core.packing.fingerprint import fingerprint_of_setting, fingerprints_of_sets
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import check_numbers_follow, recount_sets
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, PersonId

__all__ = ["COUNTED", "RecountTask", "Recounted", "counts_of", "recount_chunk"]

COUNTED = ("people", "cards", "filled cavities", "doses in them", "alongside")


@dataclass(frozen=True, slots=True)
class RecountTask:
    """Lines of people, the request about them, and what everyone's share of it (`plan_chunk.shared_of`)."""

    shared: bytes
    part: PlanRequest
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Recounted:
    """Whose sets they are, in order; each set's right fingerprint; the cards' numbers; how many of what; and the faults.

    `misnumbered`: cards whose numbers do not follow from their sets, which counts only where the whole plan's fingerprint is right.
    """

    people: tuple[PersonId, ...]
    bases: dict[PersonId, str]
    numbers: tuple[CardNumber, ...]
    counts: dict[str, int]
    faults: tuple[Finding, ...]
    misnumbered: tuple[Finding, ...]


@lru_cache(maxsize=2)
def _unpacked(shared: bytes) -> tuple[PlanRequest, str]:
    """The bytes come from this program's own parent process, never from a file."""
    request: PlanRequest = pickle.loads(shared)  # noqa: S301
    return request, fingerprint_of_setting(request)


def recount_chunk(task: RecountTask) -> Recounted:
    """Recount. Raises JsonError and PlanError as `parse_plan` does."""
    shared, setting = _unpacked(task.shared)
    part = task.part
    request = replace(shared, people=part.people, orders=part.orders, timetables=part.timetables, answers=part.answers)
    sets = tuple(parse_person(line, request.medicines) for line in task.lines)
    bases = fingerprints_of_sets(sets, request, setting)
    return Recounted(
        people=tuple(one.person for one in sets),
        bases=bases,
        numbers=tuple(card.number for one in sets for card in one.cards),
        counts=counts_of(sets),
        faults=recount_sets(sets, request),
        misnumbered=tuple(check_numbers_follow(sets, bases, request)),
    )


def counts_of(sets: Iterable[PersonPlan]) -> dict[str, int]:
    """How many of each of `COUNTED` there are."""
    everyone = tuple(sets)
    cards = [card for one in everyone for card in one.cards]
    cavities = [cavity for card in cards for cavity in card.cavities]
    doses, beside = sum(len(cavity.contents) for cavity in cavities), sum(len(one.alongside) for one in everyone)
    return dict(zip(COUNTED, (len(everyone), len(cards), len(cavities), doses, beside), strict=True))
