"""What may not lie beside what in one cavity, and what should not: medicines and pair rules in, the reason for each pair out.

Kept apart always: named pairs, medicines that lie alone, hazardous from others. Kept apart where it costs nothing: look-alikes.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import combinations

from dosewright.core.medicines.medicine import Medicine, Size
from dosewright.core.medicines.names import mentions
from dosewright.core.medicines.suitability import Rules, rules_about

__all__ = ["PairRule", "alone", "apart_because", "forbidding", "hazardous", "look_alike", "look_alikes"]


@dataclass(frozen=True, slots=True)
class PairRule:
    """Any medicine of `one` may not share a cavity with any of `other`; an empty `other` means: with anything."""

    id: str
    one: tuple[str, ...]
    other: tuple[str, ...]
    reason: str
    source: str
    dated: str
    evidence: str

    def __hash__(self) -> int:
        """By id alone, which is enough and quick: what all rules together say of two medicines is remembered."""
        return hash(self.id)

    def forbids(self, first: Medicine, second: Medicine) -> bool:
        """Whether the pair is this rule's, in either order."""
        return self._names(first, second) or self._names(second, first)

    def _names(self, first: Medicine, second: Medicine) -> bool:
        return _any_of(self.one, first) and (not self.other or _any_of(self.other, second))


def _any_of(names: tuple[str, ...], medicine: Medicine) -> bool:
    return any(mentions(medicine.name, name) for name in names)


def alone(medicine: Medicine) -> bool:
    """Whether the product must have its cavity to itself."""
    return "alone" in medicine.flags


def hazardous(medicine: Medicine, rules: Rules) -> bool:
    """Whether a flag or a rule calls it hazardous to handle."""
    return "hazardous" in medicine.flags or any(rule.hazardous for rule in rules_about(medicine, rules))


@lru_cache(maxsize=16)
def forbidding(pairs: tuple[PairRule, ...], rules: Rules) -> Callable[[Medicine, Medicine], str | None]:
    """`apart_because` under those rules, its answers remembered. For many pairs of medicines: the rules are looked up once."""
    return lru_cache(maxsize=65536)(partial(apart_because, pairs=pairs, rules=rules))


def apart_because(first: Medicine, second: Medicine, pairs: tuple[PairRule, ...], rules: Rules) -> str | None:
    """The id of what forbids the two to share a cavity; None where nothing does. A medicine never forbids itself."""
    if first.code == second.code:
        return None
    if alone(first) or alone(second):
        return "alone"
    if hazardous(first, rules) != hazardous(second, rules):
        return "hazardous"
    return next((pair.id for pair in pairs if pair.forbids(first, second)), None)


@lru_cache(maxsize=65536)
def look_alike(first: Medicine, second: Medicine) -> bool:
    """Whether two different products cannot be told apart by eye: same colour, outline and size class, and no mark that tells them apart.

    Size class: length and width differ by less than a millimetre. A marked and an unmarked one count as alike, for one face may be blank.
    """
    if first.code == second.code or not (first.size and second.size and first.colour and second.colour):
        return False
    same_look = first.colour.casefold() == second.colour.casefold() and first.shape is second.shape
    told_apart = bool(first.mark and second.mark) and first.mark.casefold() != second.mark.casefold()
    return same_look and not told_apart and _near(first.size, second.size)


def _near(one: Size, other: Size) -> bool:
    return abs(one.length - other.length) < 1 and abs(one.width - other.width) < 1


def look_alikes(medicines: Iterable[Medicine]) -> tuple[tuple[Medicine, Medicine], ...]:
    """Every pair among them that looks alike, in the order given."""
    return tuple(pair for pair in combinations(medicines, 2) if look_alike(*pair))
