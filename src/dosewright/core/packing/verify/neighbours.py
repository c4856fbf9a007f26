"""R4: no cavity holds too much, too many, or two things that may not lie together."""

from collections.abc import Iterable
from fractions import Fraction
from itertools import combinations

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import apart_because
from dosewright.core.packing.plan_values import Card, PackedCavity, PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.fault import in_cavity
from dosewright.core.packing.verify.room import cubic_millimetres, pieces
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person

__all__ = ["check_cavities"]


def check_cavities(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """Volume, pieces, label lines and neighbours of each cavity, in the order of the cards."""
    for card in planned.cards:
        for cavity in card.cavities:
            counts = _counts(cavity)
            known = {code: request.medicines[code] for code in counts if code in request.medicines}
            yield from _check_room(card, cavity, counts, known, person, request)
            yield from _check_pairs(card, cavity, known, person, request)


def _counts(cavity: PackedCavity) -> dict[MedicineCode, Fraction]:
    counts: dict[MedicineCode, Fraction] = {}
    for content in cavity.contents:
        counts[content.medicine] = counts.get(content.medicine, Fraction(0)) + content.quantity.count
    return counts


def _check_room(  # noqa: PLR0913, PLR0917 - one cavity with what it holds and what it is held against
    card: Card,
    cavity: PackedCavity,
    counts: dict[MedicineCode, Fraction],
    known: dict[MedicineCode, Medicine],
    person: Person,
    request: PlanRequest,
) -> Iterable[Finding]:
    limit = request.format.cavity
    room = limit.length * limit.width * limit.depth
    filled = sum((cubic_millimetres(known[code]) * count for code, count in counts.items() if code in known), Fraction(0))
    if filled > room * limit.design_fill:
        yield in_cavity("over-full", person, card, cavity, expected=int(room * limit.design_fill), found=-int(-filled // 1))
    many = sum(pieces(count) for count in counts.values())
    if many > limit.max_units:
        yield in_cavity("over-count", person, card, cavity, expected=limit.max_units, found=many)
    lines = request.label_lines
    needed = sum(lines.needed.get(code, 0) for code in counts) if lines else 0
    if lines and needed > lines.room:
        yield in_cavity("over-label", person, card, cavity, expected=lines.room, found=needed)


def _check_pairs(
    card: Card, cavity: PackedCavity, known: dict[MedicineCode, Medicine], person: Person, request: PlanRequest
) -> Iterable[Finding]:
    for one, other in combinations(known.values(), 2):
        because = apart_because(one, other, request.pairs, request.rules)
        if because:
            yield in_cavity("forbidden-pair", person, card, cavity, medicine=one.label, other=other.label, rule=because)
