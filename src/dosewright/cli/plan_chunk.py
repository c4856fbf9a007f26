"""Some people of a plan, planned, recounted and written out by themselves: a task in, what it gives out. Runs in any process.

People do not depend on each other, so that the parts put together are what planning them all at once gives, byte for byte (R18).
"""

import gc
import pickle
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass, replace
from functools import lru_cache
from typing import Any

from dosewright.cli.finding_line import line_of
from dosewright.cli.waiting import Part, unpack
from dosewright.core.interop.plan_json import format_finding, format_person
from dosewright.core.packing.explain import explain
from dosewright.core.packing.fingerprint import fingerprint_of_setting
from dosewright.core.packing.person_plan import Planned
from dosewright.core.packing.plan import plan_people
from dosewright.core.packing.plan_values import PersonPlan, Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify import check_whole, recount_sets
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import PersonId
from dosewright.devices.other_formats import in_other_formats

__all__ = ["ChunkDone", "ChunkTask", "PackedTask", "Told", "plan_chunk", "plan_packed", "shared_of", "tell"]

_ONE_PRODUCT = ("duplicate.same-time", "duplicate.same-product")


@dataclass(frozen=True, slots=True)
class ChunkTask:
    """Some of the people, and what all share (`shared`, as `shared_of` packed it for the way to another process)."""

    shared: bytes
    part: Part
    explain: bool = False


@dataclass(frozen=True, slots=True)
class PackedTask:
    """The same with the people packed."""

    shared: bytes
    packed: bytes
    explain: bool = False


@dataclass(frozen=True, slots=True)
class Told:
    """A finding as it is written: its line of the file, how grave, and its line on a terminal; "" where that is not shown."""

    text: str
    severity: str
    line: str


@dataclass(frozen=True, slots=True)
class ChunkDone:
    """The people's lines of the plan file, each set's fingerprint, and what was found, in the order in which the file has it.

    `doubted`: in whose sets the recount found faults. `numbers`: of all cards. `explained`: lines for standard output.
    """

    people: tuple[str, ...]
    bases: dict[PersonId, str]
    said: tuple[Told, ...]
    starts: tuple[Told, ...]
    faults: tuple[Told, ...]
    doubted: tuple[str | None, ...]
    numbers: tuple[str, ...]
    cavities: int
    explained: tuple[str, ...] = ()

    def in_json(self) -> dict[str, Any]:
        """Everything but the people, whose lines are kept beside it."""
        return {name: value for name, value in asdict(self).items() if name != "people"}

    @staticmethod
    def from_json(people: tuple[str, ...], held: dict[str, Any]) -> "ChunkDone":
        """What `in_json` gave. Raises TypeError or KeyError for anything else."""
        told = {name: tuple(Told(**one) for one in held[name]) for name in ("said", "starts", "faults")}
        lists = {name: tuple(held[name]) for name in ("doubted", "numbers", "explained")}
        return ChunkDone(**{**held, **told, **lists, "people": people})


def shared_of(request: PlanRequest) -> bytes:
    """What all people of the request share, packed once: medicines, rules, card format, profile."""
    return pickle.dumps(replace(request, people=(), orders=(), places={}, weeks_a_card={}, timetables={}, answers=()))


@lru_cache(maxsize=2)
def _unpacked(shared: bytes) -> tuple[PlanRequest, str]:
    """The same again, with its fingerprint; kept, so that what is remembered about medicines and rules serves all tasks of this process.

    The bytes come from `shared_of` in this program's own parent process, never from a file."""
    request: PlanRequest = pickle.loads(shared)  # noqa: S301
    return request, fingerprint_of_setting(request)


@contextmanager
def _rarely_collecting() -> Iterator[None]:
    """A plan's values refer to each other in no circles, so that all are freed once nobody holds them; to look for circles after every
    few hundred new ones takes a seventh of the time."""
    youngest, *older = gc.get_threshold()
    gc.set_threshold(max(youngest, 50_000), *older)
    try:
        yield
    finally:
        gc.set_threshold(youngest, *older)


@_rarely_collecting()
def plan_chunk(task: ChunkTask) -> ChunkDone:
    """Plan, recount, write out."""
    shared, setting = _unpacked(task.shared)
    part = task.part.request
    of_people = {name: getattr(part, name) for name in ("people", "orders", "places", "weeks_a_card", "timetables", "answers")}
    request = replace(shared, **of_people)
    planned = plan_people(request, setting)
    bases = {one.plan.person: one.basis for one in planned}
    faults = _recount([one.plan for one in planned], request)
    names = {person.id: person.name for person in request.people}
    found = [finding for one in planned for finding in one.findings]
    return ChunkDone(
        people=tuple(format_person(one.plan, names[one.plan.person]) for one in planned),
        bases=bases,
        said=tell(_not_said_twice(found, task)),
        starts=tell(_unstated_starts(found)),
        faults=tell(faults),
        doubted=tuple(dict.fromkeys(str(f.where["person"]) if "person" in f.where else None for f in faults)),
        numbers=tuple(card.number for one in planned for card in one.plan.cards),
        cavities=sum(len(card.cavities) for one in planned for card in one.plan.cards),
        explained=tuple(_explained(planned, request)) if task.explain else (),
    )


def plan_packed(task: PackedTask) -> ChunkDone:
    """The same for people who are packed."""
    return plan_chunk(ChunkTask(task.shared, unpack(task.packed), task.explain))


def _recount(sets: Sequence[PersonPlan], request: PlanRequest) -> tuple[Finding, ...]:
    """All that `verify` counts but the fingerprint, which was made from these very sets a moment ago: `verify` compares the file's."""
    head = Plan("", request.first, request.days, request.profile.name, request.format.name, (), ())
    numbers = (card.number for one in sets for card in one.cards)
    return (*check_whole(head, (one.person for one in sets), numbers, head.basis, request), *recount_sets(sets, request))


def tell(findings: Iterable[Finding]) -> tuple[Told, ...]:
    """Each finding as it is written; only grave ones are shown on a terminal."""
    return tuple(Told(format_finding(f), str(f.severity), "" if f.severity is Severity.NOTE else line_of(f)) for f in findings)


def _not_said_twice(findings: Iterable[Finding], task: ChunkTask) -> Iterator[Finding]:
    """Without what the files' own findings said already, with more: an order without directions, one medicine ordered twice."""
    for found in findings:
        order = found.where.get("order")
        unread = order in task.part.unread and found.code in ("timing.no-dosage", "directions.refuse")
        if not unread and not (found.code in _ONE_PRODUCT and {order, found.facts["other_order"]} in task.part.twice):
            yield found


def _unstated_starts(findings: Iterable[Finding]) -> Iterator[Finding]:
    """A rhythm or a course counted from the cycle's first day would slip with the next cycle: a person must say where it began."""
    for found in findings:
        if found.code == "assumed.anchor":
            yield Finding("order.start-not-stated", Severity.DECIDE, found.where, found.facts)


def _explained(planned: Iterable[Planned], request: PlanRequest) -> Iterator[str]:
    """For everyone who has a card."""
    with_cards = {one.plan.person for one in planned if one.plan.cards}
    others = in_other_formats(request)
    for person in request.people:
        if person.id in with_cards:
            yield from (" ".join(say(found).split()) for found in explain(person, request, others))
