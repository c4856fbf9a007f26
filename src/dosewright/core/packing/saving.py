"""Single changes that would save a card: a person's doses in, each change with the cards it would leave out; every one of them tried.

One medicine of one dosing time taken at another; another card format; cavities filled further. Whether a change may be made is not judged
here: a dose moves only as its order allows, a format is chosen for more than one person, and the fill is a measure of the card's own.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import time
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.load import loads_of
from dosewright.core.packing.person_plan import plan_person
from dosewright.core.packing.person_weeks import PersonWeeks
from dosewright.core.packing.placing import UnitSeries
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.dosing_time import DosingTime
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import SlotName

__all__ = ["one_fewer"]

_FULLEST = 64  # per cent of a cavity: where random packing of round units ends (Bernal; Scott; from memory)


def one_fewer(mine: PersonWeeks, series: Sequence[UnitSeries], cards: int, others: Sequence[PlanRequest]) -> Iterator[Finding]:
    """Every change of one thing that leaves fewer than `cards`."""
    if cards < 2:
        return
    yield from _by_moving(mine, series, cards)
    yield from _by_format(mine, cards, others)
    yield from _by_filling(mine, cards)


def _by_moving(mine: PersonWeeks, series: Sequence[UnitSeries], cards: int) -> Iterator[Finding]:
    """For each medicine and dosing time the nearest other dosing time that leaves fewest cards; never one where it is taken already."""
    taken = {(one.medicine, one.slot): one.time for one in series}
    for (medicine, slot), clock in taken.items():
        free = [there for there in mine.request.timetable_of(mine.person).slots if (medicine, there.name) not in taken]
        found = [
            (mine_cards, _apart(clock, there.time), there)
            for there in free
            if (mine_cards := _moved(mine, series, medicine, slot, there)) < cards
        ]
        if found:
            left, _, there = min(found, key=lambda one: one[:2])
            facts: dict[str, Fact] = {"medicine": medicine.label, "other_slot": there.name, "other_time": there.time, "cards": left}
            yield replace(mine.note("explain.saves-card-moved", None, time=clock, **facts), where={"person": mine.person.id, "slot": slot})


def _moved(mine: PersonWeeks, series: Sequence[UnitSeries], medicine: Medicine, slot: SlotName, there: DosingTime) -> int:
    """The cards that are needed with that medicine at the other dosing time."""
    moved = [one._replace(slot=there.name, time=there.time) if (one.medicine, one.slot) == (medicine, slot) else one for one in series]
    loads = loads_of(moved, mine.request)
    each = [mine.used(load) for load in loads]
    return mine.cards([sum(week) for week in zip(*each, strict=True)], loads)


def _apart(one: time, other: time) -> int:
    return abs(one.hour * 60 + one.minute - other.hour * 60 - other.minute)


def _by_format(mine: PersonWeeks, cards: int, others: Sequence[PlanRequest]) -> Iterator[Finding]:
    now = _planned(mine, mine.request)
    for other in others:
        if other.format.name != mine.request.format.name and (left := _fewer(_planned(mine, other), now, cards)):
            yield mine.note("explain.saves-card-format", None, format=other.format.title, cards=left)


def _by_filling(mine: PersonWeeks, cards: int) -> Iterator[Finding]:
    """The least further filling, in whole per cent, that leaves fewer cards."""
    now = _planned(mine, mine.request)
    percent = int(mine.request.format.cavity.design_fill * 100)
    low, high = percent, _FULLEST
    left = _fewer(_planned(mine, _filled(mine.request, high)), now, cards) if high > low else 0
    while left and high - low > 1:
        middle = (low + high) // 2
        if found := _fewer(_planned(mine, _filled(mine.request, middle)), now, cards):
            high, left = middle, found
        else:
            low = middle
    if left:
        yield mine.note("explain.saves-card-fill", None, fill=percent, fuller=high, cards=left)


def _filled(request: PlanRequest, percent: int) -> PlanRequest:
    cavity = replace(request.format.cavity, design_fill=Fraction(percent, 100))
    return replace(request, format=replace(request.format, cavity=cavity))


def _planned(mine: PersonWeeks, request: PlanRequest) -> PersonPlan:
    return plan_person(mine.person, request, "").plan


def _fewer(then: PersonPlan, now: PersonPlan, cards: int) -> int:
    """The cards of the other plan where they are fewer and nothing is left out for it, else 0."""
    return len(then.scheduled) if 0 < len(then.scheduled) < cards and then.alongside == now.alongside else 0
