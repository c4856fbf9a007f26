"""Whole homes: a plan of any number of people, some at a time through an executor, from what was read to what is written.

Comes in: what the files gave, and where finished parts are kept. Goes out: everyone's lines and what was found, part by part, in the order
of the people, whatever the number of workers and however often the run was stopped. Only what a few parts hold is in memory at a time.
"""

import hashlib
from array import array
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor
from dataclasses import dataclass
from importlib.metadata import version
from itertools import pairwise
from typing import Protocol

from dosewright.cli.plan_chunk import ChunkDone, ChunkTask, PackedTask, Told, plan_chunk, plan_packed, shared_of, tell
from dosewright.cli.plan_input import PlanInput
from dosewright.cli.through import run_through
from dosewright.cli.waiting import Part
from dosewright.core.packing.fingerprint import canonical_bytes, fingerprint_of_sets, fingerprint_of_setting
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.core.units.person import Person

__all__ = ["CHUNK", "InMemory", "Means", "Parts", "Planned", "key_of", "part_digest", "part_of", "parts_of", "plan_homes", "twice_in"]

CHUNK = 64  # people planned at a time: some tenths of a second, and a few megabytes


class Parts(Protocol):
    """Where finished parts are kept: a work folder, or memory."""

    def has(self, number: int) -> bool: ...

    def keep(self, number: int, done: ChunkDone) -> None: ...

    def lines(self, number: int) -> Iterator[str]: ...

    def found(self, number: int) -> ChunkDone: ...


class InMemory:
    """For few people."""

    def __init__(self) -> None:
        self._kept: dict[int, ChunkDone] = {}

    def has(self, number: int) -> bool:
        return number in self._kept

    def keep(self, number: int, done: ChunkDone) -> None:
        self._kept[number] = done

    def lines(self, number: int) -> Iterator[str]:
        return iter(self._kept[number].people)

    def found(self, number: int) -> ChunkDone:
        return self._kept[number]


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan whose parts are all finished. `basis` is its fingerprint; `doubted`: in whose sets faults were found, None for everyone's."""

    parts: Parts
    numbers: range
    basis: str
    across: tuple[Told, ...]
    doubted: tuple[str | None, ...]
    cards: int
    cavities: int

    def people(self) -> Iterator[str]:
        """Everyone's lines of the plan file."""
        return (line for number in self.numbers for line in self.parts.lines(number))

    def told(self) -> Iterator[Told]:
        """What was found by planning, then starts that nobody stated, then the recount's faults."""
        for kind in ("said", "starts", "faults"):
            for number in self.numbers:
                yield from getattr(self.parts.found(number), kind)
        yield from self.across

    def explained(self) -> Iterator[str]:
        """Lines for standard output."""
        return (line for number in self.numbers for line in self.parts.found(number).explained)


def parts_of(given: PlanInput) -> range:
    """The numbers of the parts that the people make."""
    return range(len(given.waiting.parts)) if given.waiting else range(-(-len(given.request.people) // CHUNK))


@dataclass(frozen=True, slots=True)
class Means:
    """With what a plan is made: the executor, how many parts may be under way, who is told how many people a part had."""

    executor: Executor
    ahead: int
    finished: Callable[[int], None]
    explain: bool = False


def plan_homes(given: PlanInput, parts: Parts, means: Means) -> Planned:
    """Plan every part that is not finished yet. Raises what a task raises."""
    for number, done in _done(given, parts, means):
        parts.keep(number, done)
        means.finished(len(done.people))
    return _together(parts, parts_of(given))


def _done(given: PlanInput, parts: Parts, means: Means) -> Iterator[tuple[int, ChunkDone]]:
    """Those not finished, as they are done."""
    if given.waiting:
        shared = shared_of(given.request)
        waiting = ((at, PackedTask(shared, one, means.explain)) for at, one in enumerate(given.waiting.parts) if not parts.has(at))
        return run_through(means.executor, plan_packed, waiting, means.ahead)
    return run_through(means.executor, plan_chunk, _tasks(given, parts, explain=means.explain), means.ahead)


def _tasks(given: PlanInput, parts: Parts, *, explain: bool) -> Iterator[tuple[int, ChunkTask]]:
    """Those not finished, one at a time."""
    shared, unread, twice = shared_of(given.request), _unread(given), twice_in(given.findings)
    for number in parts_of(given):
        if not parts.has(number):
            request = part_of(given.request, given.request.people[number * CHUNK : (number + 1) * CHUNK])
            ids = frozenset(order.id for order in request.orders)
            part = Part(request, unread & ids, frozenset(pair for pair in twice if pair & ids))
            yield number, ChunkTask(shared, part, explain)


def part_of(request: PlanRequest, people: tuple[Person, ...]) -> PlanRequest:
    """The same request about those people, without what all share."""
    ids = {person.id for person in people}
    orders = tuple(order for person in people for order in request.orders_of(person.id))
    known = {order.id for order in orders}
    return PlanRequest(
        people=people,
        orders=orders,
        medicines={},
        format=request.format,
        profile=request.profile,
        first=request.first,
        days=request.days,
        prepared_on=request.prepared_on,
        timetables={person: one for person, one in request.timetables.items() if person in ids},
        answers=tuple(answer for answer in request.answers if answer.order in known) if request.answers else (),
        places={person: places for person in ids if (places := request.places.get(person))},
        weeks_a_card={person: weeks for person, weeks in request.weeks_a_card.items() if person in ids},
    )


def _unread(given: PlanInput) -> frozenset[OrderId]:
    return frozenset(received.order.id for received in given.orders.unsettled)


def twice_in(findings: Iterable[Finding]) -> frozenset[frozenset[OrderId]]:
    """Pairs of orders of one medicine that the files' findings name."""
    found = (one for one in findings if one.code == "order.same-medicine-twice")
    return frozenset(frozenset((OrderId(str(one.where["order"])), OrderId(str(one.facts["other"])))) for one in found)


def _together(parts: Parts, numbers: range) -> Planned:
    bases: dict[PersonId, str] = {}
    doubted: dict[str | None, None] = {}
    seen = array("Q")
    cards = cavities = 0
    for number in numbers:
        done = parts.found(number)
        bases.update(done.bases)
        doubted.update(dict.fromkeys(done.doubted))
        seen.extend({int(card) for card in done.numbers})  # one of several in one part, the recount has named already
        cards, cavities = cards + len(done.numbers), cavities + done.cavities
    twice = list(_in_two_parts(parts, numbers, _more_than_once(seen)))
    across = tell(Finding("verify.card-number-wrong", Severity.STOP, {"card": card}, {"times": 2}) for card in twice)
    doubts = (*doubted, *((None,) if twice else ()))
    return Planned(parts, numbers, fingerprint_of_sets(bases), across, doubts, cards, cavities)


def _more_than_once(numbers: Iterable[int]) -> frozenset[int]:
    in_order = array("Q", sorted(numbers))
    return frozenset(one for one, after in pairwise(in_order) if one == after)


def _in_two_parts(parts: Parts, numbers: range, several: frozenset[int]) -> Iterator[str]:
    """Those cards again as they are written, wherever an earlier part has the number. Nearly always none, and nothing is looked through."""
    seen: set[int] = set()
    for number in numbers if several else ():
        own = {int(card): card for card in parts.found(number).numbers}
        yield from (card for value, card in own.items() if value in seen)
        seen.update(several.intersection(own))


def key_of(given: PlanInput, *, explain: bool) -> str:
    """What the finished parts of a run are known by: everything that they are made from."""
    made = hashlib.sha256()
    for value in _made_from(given, explain=explain):
        made.update(canonical_bytes(value))
    if given.waiting:
        made.update(given.waiting.digest.encode())
    else:
        made.update(part_digest(Part(given.request, _unread(given), twice_in(given.findings))))
    return made.hexdigest()[:32]


def part_digest(part: Part) -> bytes:
    """A digest of everything about the people."""
    request, made = part.request, hashlib.sha256()
    made.update(canonical_bytes((sorted(part.unread), sorted(sorted(pair) for pair in part.twice))))
    for person in request.people:
        of_person = (person, request.timetable_of(person), request.places.get(person.id, {}), request.weeks_a_card.get(person.id))
        made.update(canonical_bytes((*of_person, request.orders_of(person.id))))
    return made.digest()


def _made_from(given: PlanInput, *, explain: bool) -> Iterable[object]:
    request = given.request
    yield version("dosewright"), CHUNK, explain, fingerprint_of_setting(request), request.salt
    yield [request.medicines[code] for code in sorted(request.medicines)]
    yield request.expiries, request.answers, request.timetable
