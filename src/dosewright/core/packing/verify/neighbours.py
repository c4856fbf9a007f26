"""R4: no cavity holds too much, too many, or two things that may not lie together."""

from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache
from itertools import combinations

from dosewright.core.medicines.neighbours import forbidding
from dosewright.core.packing.card_format import Cavity
from dosewright.core.packing.plan_values import PackedCavity, PersonPlan, each_contents
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.fault import in_cavity
from dosewright.core.packing.verify.room import pieces, room_of
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person

__all__ = ["check_cavities"]


_Fault = tuple[str, dict[str, Fact]]


def check_cavities(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """Volume, pieces, label lines and neighbours of each cavity, in the order of the cards. Cavities that hold the same are judged once."""
    faults: dict[int, tuple[_Fault, ...]] = {}  # by contents, which are the very same for several days
    known: dict[tuple[tuple[str, int, int], ...], tuple[_Fault, ...]] = {}
    for cavity in each_contents(cavity for card in planned.cards for cavity in card.cavities):
        held = tuple([(c.medicine, *c.quantity.count.as_integer_ratio()) for c in cavity.contents])
        if held not in known:
            known[held] = (*_check_room(_counts(cavity), request), *_check_pairs(cavity, request))
        faults[id(cavity.contents)] = known[held]
    if not any(faults.values()):
        return
    for card in planned.cards:
        for cavity in card.cavities:
            for code, facts in faults[id(cavity.contents)]:
                yield in_cavity(code, person, card, cavity, **facts)


def _counts(cavity: PackedCavity) -> dict[MedicineCode, Fraction]:
    counts: dict[MedicineCode, Fraction] = {}
    for content in cavity.contents:
        counts[content.medicine] = counts.get(content.medicine, Fraction(0)) + content.quantity.count
    return counts


def _check_room(counts: dict[MedicineCode, Fraction], request: PlanRequest) -> Iterable[_Fault]:
    limit, lines, catalogue = request.format.cavity, request.label_lines, request.medicines
    usable = _usable(limit)
    filled = room_of((catalogue[code], count) for code, count in counts.items() if code in catalogue)
    if filled > usable:
        yield "over-full", {"expected": int(usable), "found": -int(-filled // 1)}
    many = sum(pieces(count) for count in counts.values())
    if many > limit.max_units:
        yield "over-count", {"expected": limit.max_units, "found": many}
    needed = sum(lines.needed.get(code, 0) for code in counts) if lines else 0
    if lines and needed > lines.room:
        yield "over-label", {"expected": lines.room, "found": needed}


@lru_cache(maxsize=64)
def _usable(cavity: Cavity) -> Fraction:
    return cavity.length * cavity.width * cavity.depth * cavity.design_fill


def _check_pairs(cavity: PackedCavity, request: PlanRequest) -> Iterable[_Fault]:
    codes = dict.fromkeys(content.medicine for content in cavity.contents)
    medicines = [request.medicines[code] for code in codes if code in request.medicines]
    forbids = forbidding(request.pairs, request.rules)
    for one, other in combinations(medicines, 2):
        if because := forbids(one, other):
            yield "forbidden-pair", {"medicine": one.label, "other": other.label, "rule": because}
