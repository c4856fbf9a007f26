"""Whose cards could be taken for whose: people at one address, in one room, or with like names; and a border of their own for each.

Comes in: everybody whom the pharmacy supplies, not only those of one plan: a border must not depend on who is printed together. Goes out:
for each person who could be mixed up the people concerned, and a border pattern that none of them has.

Source: coroner's report to prevent future deaths, Berkshire 2024: somebody took the spouse's pack; the two differed by one small label in
small type.
"""

import hashlib
import unicodedata
from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from dosewright.core.paper.border import Pattern
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person

__all__ = ["Apart", "tell_apart"]


@dataclass(frozen=True, slots=True)
class Apart:
    """Somebody whose card could be taken for another's: whose (by name, in order), and the border that tells it apart; None where more
    people are alike than there are borders. `told`: whether what stands besides the name tells the person from each of them."""

    others: tuple[str, ...]
    pattern: Pattern | None
    told: bool = True


def tell_apart(people: Iterable[Person]) -> Mapping[PersonId, Apart]:
    """Each person who could be mixed up with another. Somebody keeps the border as people come and go, unless one of those alike has it."""
    everyone = {person.id: person for person in sorted(people, key=lambda person: person.id)}
    alike: dict[PersonId, set[PersonId]] = defaultdict(set)
    for one, other in _pairs(list(everyone.values())):
        alike[one].add(other)
        alike[other].add(one)
    patterns = _share_out(alike)
    return {one: _apart(everyone[one], [everyone[other] for other in alike[one]], patterns[one]) for one in sorted(alike)}


def _apart(one: Person, others: Sequence[Person], pattern: Pattern | None) -> Apart:
    """A date of birth is as good as can be had, though twins share it; else a room or an address must be another than theirs."""
    told = one.born is not None or all(_elsewhere(one, other) for other in others)
    return Apart(tuple(sorted(other.name for other in others)), pattern, told)


def _elsewhere(one: Person, other: Person) -> bool:
    """Whether the person's home, room or address is known, and not the other's."""
    pairs = ((one.home, other.home), (one.room, other.room), (None if one.home else one.address, other.address))
    return any(mine and _folded(str(mine)) != _folded(str(theirs or "")) for mine, theirs in pairs)


def _pairs(people: Sequence[Person]) -> set[tuple[PersonId, PersonId]]:
    """Pairs of people whose cards could change places."""
    found: set[tuple[PersonId, PersonId]] = set()
    for key in (_address, _room, _whole_name):
        found |= {(one.id, other.id) for group in _groups(people, key) for one, other in combinations(group, 2)}
    for group in _groups(people, lambda person: person.home):
        found |= {(one.id, other.id) for one, other in combinations(group, 2) if _like(_surname(one), _surname(other))}
    return found


def _groups(people: Iterable[Person], key: Callable[[Person], Hashable | None]) -> list[list[Person]]:
    groups: dict[Hashable, list[Person]] = defaultdict(list)
    for person in people:
        if (value := key(person)) is not None:
            groups[value].append(person)
    return [group for group in groups.values() if len(group) > 1]


def _address(person: Person) -> Hashable | None:
    """People of a home share its address, and are told apart by room and name."""
    return _folded(person.address) or None if person.home is None else None


def _room(person: Person) -> Hashable | None:
    return (person.home, _folded(person.room)) if person.home and person.room.strip() else None


def _whole_name(person: Person) -> Hashable | None:
    """The same words in any order: "Ada Lovell" and "Lovell, Ada"."""
    return tuple(sorted(_folded(person.name).split()))


def _surname(person: Person) -> str:
    """ "Lovell, Ada" says which it is; else the last word."""
    before, comma, _ = person.name.partition(",")
    words = _folded(before if comma else person.name).split()
    return words[-1] if words else ""


def _folded(text: str) -> str:
    """Without case, accents and punctuation: what is left is what a tired eye sees."""
    letters = (letter for letter in unicodedata.normalize("NFKD", text.casefold()) if not unicodedata.combining(letter))
    return " ".join("".join(letter if letter.isalnum() else " " for letter in letters).split())


def _like(one: str, other: str) -> bool:
    """The same, or one letter more, less or other, or two neighbours changed, in surnames of four letters and more (a proposal of ours)."""
    if one == other:
        return bool(one)
    if min(len(one), len(other)) < 4 or abs(len(one) - len(other)) > 1:
        return False
    first = next((at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))
    rest, other_rest = one[first:], other[first:]
    swapped = rest[:2] == other_rest[:2][::-1] and rest[2:] == other_rest[2:]
    return swapped or rest[1:] == other_rest[1:] or rest[1:] == other_rest or rest == other_rest[1:]


def _share_out(alike: Mapping[PersonId, set[PersonId]]) -> dict[PersonId, Pattern | None]:
    """To each, in order of id, the border that the id points at, or the next that nobody alike has yet."""
    given: dict[PersonId, Pattern | None] = {}
    every = tuple(Pattern)
    for one in sorted(alike):
        taken = {given.get(other) for other in alike[one]}
        start = int.from_bytes(hashlib.sha256(one.encode()).digest()[:4], "big") % len(every)
        turns = (*every[start:], *every[:start])
        given[one] = next((pattern for pattern in turns if pattern not in taken), None)
    return given
