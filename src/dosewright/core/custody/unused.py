"""Orders of a file that could not be used: whose they are, what they say, why, and whose planning waits until they are settled.

An order that is broken is in no card and on no list. Left out in silence it would be an omission that nobody sees (R1): so it waits.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import OrderId, PersonId

__all__ = ["UnusedOrder", "UnusedStanding", "check_all_used", "check_settling", "gather_unused"]


class UnusedStanding(StrEnum):
    """What became of an order that could not be used. `REPLACED`: the same order came in again, and could be used."""

    WAITING = "waiting"
    TURNED_DOWN = "turned down"
    SUPPLIED_OTHERWISE = "supplied otherwise"
    REPLACED = "replaced"


_BY_HAND = (UnusedStanding.TURNED_DOWN, UnusedStanding.SUPPLIED_OTHERWISE)


@dataclass(frozen=True, slots=True)
class UnusedOrder:
    """`person` and `order` are "" where the file does not say whose or which it is; `place` is its line or resource, `text` its words as
    received. `holds`: whose planning waits for it; where nobody can tell whose it is, that of everybody in the file."""

    person: PersonId
    order: str
    place: str
    text: str
    findings: tuple[Finding, ...]
    holds: tuple[PersonId, ...]


_Key = tuple[PersonId, str]


def gather_unused(
    findings: Iterable[Finding], used: Collection[OrderId], words: Mapping[str, str], people: Iterable[PersonId]
) -> tuple[UnusedOrder, ...]:
    """The orders behind a file's findings that are not among the used ones, in the file's order. `words` by line or resource.

    What stops all of a person's orders, and names none of them, stands with each of them.
    """
    groups: defaultdict[_Key, list[Finding]] = defaultdict(list)
    for finding in findings:
        if _loses_an_order(finding, used):
            groups[_key(finding)].append(finding)
    everybody = tuple(sorted(set(people)))
    gathered = (_unused(key, found, words, everybody) for key, found in _with_persons_own(groups).items())
    return tuple(unused for unused in gathered if unused.order or unused.holds)


def _loses_an_order(finding: Finding, used: Collection[OrderId]) -> bool:
    order = finding.where.get("order")
    if order:
        return order not in used and finding.severity is not Severity.NOTE
    return finding.severity is Severity.STOP


def _key(finding: Finding) -> _Key:
    where = finding.where
    person, order = str(where.get("person") or ""), str(where.get("order") or "")
    return PersonId(person), order or ("" if person else _place(finding))


def _with_persons_own(groups: Mapping[_Key, list[Finding]]) -> dict[_Key, list[Finding]]:
    named = {person for person, order in groups if order}
    about = {person: found for (person, order), found in groups.items() if person and not order}
    kept = {key: found for key, found in groups.items() if key[1] or key[0] not in named}
    return {key: found + (about.get(key[0], []) if key[1] else []) for key, found in kept.items()}


def _unused(key: _Key, findings: list[Finding], words: Mapping[str, str], everybody: tuple[PersonId, ...]) -> UnusedOrder:
    person, _ = key
    places = tuple(dict.fromkeys(place for place in map(_place, findings) if place))
    named = str(next((finding.where["order"] for finding in findings if finding.where.get("order")), ""))
    text = "\n".join(words[place] for place in places if place in words)
    return UnusedOrder(person, named, ", ".join(places), text, tuple(findings), (person,) if person else everybody)


def _place(finding: Finding) -> str:
    return str(finding.where.get("line") or finding.where.get("resource") or "")


def check_all_used(waiting: Iterable[tuple[UnusedOrder, str]]) -> tuple[Finding, ...]:
    """A stop for each order (with its file's name) that could not be used and is not settled: whose it is cannot be planned for (R1)."""
    return tuple(
        Finding("custody.order-not-used", Severity.STOP, {"order": unused.order or unused.place, "file": file}) for unused, file in waiting
    )


def check_settling(order: str, standing: UnusedStanding, becomes: str, reason: str) -> tuple[Finding, ...]:
    """Find an order that is settled already, a standing that nobody can choose, and a missing reason."""
    return tuple(_check_settling(order, standing, becomes, reason))


def _check_settling(order: str, standing: UnusedStanding, becomes: str, reason: str) -> Iterator[Finding]:
    if standing is not UnusedStanding.WAITING:
        yield Finding("custody.already-settled", Severity.STOP, {"order": order}, {"standing": standing.value})
    choices = tuple(choice.value for choice in _BY_HAND)
    if becomes not in choices:
        yield Finding("custody.unknown-choice", Severity.STOP, facts={"choice": becomes, "choices": choices})
    if not reason.strip():
        yield Finding("custody.no-reason", Severity.STOP, {"order": order})
