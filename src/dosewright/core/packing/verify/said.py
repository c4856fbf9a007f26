"""Whether a set says the truth about itself: whose name it bears, the days of its cards, the parts of its columns, how full its cavities
are, and its proof. None of it moves a dose, and people read all of it: worked out anew from what lies there."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, time, timedelta
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, CardColumn, Content, PackedCavity, PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.verify.fault import fault, in_card, in_cavity
from dosewright.core.packing.verify.room import room_of
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode, SlotName
from dosewright.core.units.person import Person

__all__ = ["check_said", "check_what_follows"]

# A plan file rounds to thousandths; the planner's volumes are rounded up to thousandths of a cubic millimetre, with a pi from above.
_ROUNDING = Fraction(1, 1000)


def check_said(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """The name, then each card's days, then the columns of each week."""
    if planned.name is not None and planned.name != person.name:
        yield fault("name-differs", person, expected=person.name, found=planned.name)
    for card in planned.cards:
        yield from _check_days(card, person, request)
    yield from _check_column_parts(planned, person)


def check_what_follows(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """Each cavity's fill, then the proof: of a set in which nothing else is wrong, since they follow from what lies in it."""
    yield from _check_fills(planned, person, request)
    yield from _check_proof(planned, person, request)


def _check_days(card: Card, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """From its earliest column's first day to its latest column's last; a card for when it is needed covers the whole cycle."""
    first, last = request.first, request.last
    if card.columns and not card.as_needed:
        firsts = [column.first for column in card.columns]
        first, last = min(firsts), min(last, max(firsts) + timedelta(days=request.format.rows - 1))
    for expected, found in ((first, card.first), (last, card.last)):
        if expected != found:
            yield in_card("card-days-wrong", person, card, expected=expected, found=found)


def _check_column_parts(planned: PersonPlan, person: Person) -> Iterable[Finding]:
    """Where one dosing time of one week lies in several columns, each says which of how many it is."""
    parts: dict[tuple[date, time, SlotName], list[tuple[int, int]]] = {}
    for column in _scheduled(planned):
        parts.setdefault((column.first, column.time, column.slot), []).append((column.part, column.parts))
    for (first, _, slot), found in parts.items():
        if sorted(found) != [(part, len(found)) for part in range(1, len(found) + 1)]:
            said = tuple(f"{part} of {of}" for part, of in sorted(found))
            yield fault("column-parts-wrong", person, {"date": first, "slot": slot}, expected=len(found), found=said)


def _check_fills(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """Cavities that hold the same are counted once, whether they share their contents or stand in a file one by one."""
    right: dict[tuple[tuple[str, int, int], ...], Fraction] = {}
    judged: dict[tuple[int, int], bool] = {}
    for card in planned.cards:
        for cavity in card.cavities:
            key = id(cavity.contents), id(cavity.fill)
            if key not in judged:
                judged[key] = abs(cavity.fill - _share(cavity, right, request)) <= _ROUNDING
            if not judged[key]:
                share = _share(cavity, right, request)
                yield in_cavity("fill-wrong", person, card, cavity, expected=_per_cent(share), found=_per_cent(cavity.fill))


def _share(cavity: PackedCavity, right: dict[tuple[tuple[str, int, int], ...], Fraction], request: PlanRequest) -> Fraction:
    held = tuple([(c.medicine, *c.quantity.count.as_integer_ratio()) for c in cavity.contents])
    if held not in right:
        inside = request.format.cavity
        room = room_of(_known(cavity.contents, request.medicines))
        right[held] = room / (inside.length * inside.width * inside.depth)
    return right[held]


def _known(contents: Iterable[Content], medicines: Mapping[MedicineCode, Medicine]) -> Iterable[tuple[Medicine, Fraction]]:
    return ((medicines[content.medicine], content.quantity.count) for content in contents if content.medicine in medicines)


def _per_cent(share: Fraction) -> int:
    return round(share * 100)


def _check_proof(planned: PersonPlan, person: Person, request: PlanRequest) -> Iterable[Finding]:
    """What can be told without searching: no bound above what was found, none below what the eye sees, and as many cards as there are."""
    proof, columns = planned.proof, _scheduled(planned)
    most, least = _most_and_least(columns, roll=request.format.roll)
    for what, true, found in (
        ("cards", proof.cards == len(planned.cards), proof.cards),
        ("cards_lower_bound", bool(planned.cards) <= proof.cards_lower_bound <= proof.cards, proof.cards_lower_bound),
        ("columns", least <= proof.columns <= most, proof.columns),
        ("lower_bound", least <= proof.lower_bound <= proof.columns, proof.lower_bound),
        ("optimal", proof.lower_bound == proof.columns or not proof.optimal, proof.optimal),
    ):
        if not true:
            yield fault("proof-wrong", person, what=what, found=found)


def _most_and_least(columns: Sequence[CardColumn], *, roll: bool) -> tuple[int, int]:
    """The most columns in a week, and how many dosing times there are at most in one; of a roll the most pouches at one dosing time."""
    if roll:
        pouches = Counter((column.first, column.time, column.slot) for column in columns)
        return max(pouches.values(), default=0), min(1, len(pouches))
    in_week = Counter(column.first for column in columns)
    times = Counter(first for first, _, _ in {(column.first, column.time, column.slot) for column in columns})
    return max(in_week.values(), default=0), max(times.values(), default=0)


def _scheduled(planned: PersonPlan) -> list[CardColumn]:
    return [column for card in planned.scheduled for column in card.columns]
