"""What a choice costs: pieces in and out, waste, minutes, expected errors, when the cards are ready, and doses at risk until then.

Comes in: what is done to which cards, and the pharmacy's rates. Goes out: `Cost`. Sources of the rates stand in their file.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from fractions import Fraction
from math import ceil

from dosewright.core.packing.plan_values import Content
from dosewright.core.rework.asked import When
from dosewright.core.rework.pieces import how_many
from dosewright.core.rework.rates import Rates
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.ids import MedicineCode

__all__ = ["Cost", "Work", "cost_of", "draws", "later", "leftover", "next_dosing_time", "score"]

Amounts = Mapping[MedicineCode, Fraction]


@dataclass(frozen=True, slots=True)
class Work:
    """What is done: contents laid in out of bottles (`drawn`), carried from card to card (`carried`), thrown away (`wasted`); cavities
    opened; cards that leave the bench again, closed cards with a new header, cards discarded; ways out and back, and their hours."""

    drawn: tuple[Content, ...] = ()
    carried: tuple[Content, ...] = ()
    wasted: tuple[Content, ...] = ()
    disturbed: int = 0
    sealed: int = 0
    headers: int = 0
    discarded: int = 0
    ways: int = 0
    hours: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Cost:
    """`minutes` at the bench without fetching bottles, which several cards may share; `errors` expected to pass the check, likewise exact.

    `drawn` is what the bottles give, `waste` what is destroyed. `ready_for`: the first dosing time that finds the cards right. `at_risk`:
    doses due before that which differ between old and new orders.
    """

    minutes: Fraction = Fraction(0)
    placements: int = 0
    drawn: Amounts = field(default_factory=dict)
    waste: Amounts = field(default_factory=dict)
    disturbed: int = 0
    errors: Fraction = Fraction(0)
    ready_for: When | None = None
    at_risk: int = 0


def cost_of(work: Work, affected: Iterable[When], now: Moment, timetable: Timetable, rates: Rates) -> Cost:
    """`affected`: the moment of each dose that differs, one entry a dose."""
    placed, taken = _pieces((*work.drawn, *work.carried)), _pieces((*work.carried, *work.wasted))
    per = rates.minutes
    # What goes with a discarded card is not taken out piece by piece.
    taken = taken if not work.discarded or work.carried else 0
    minutes = (
        placed * per.place_piece
        + taken * per.take_piece
        + work.disturbed * per.open_cavity
        + work.sealed * per.check_seal_label
        + work.headers * per.new_header
        + work.discarded * per.discard_card
        + work.ways * per.carry
    )
    drawn = _amounts(work.drawn)
    ready = next_dosing_time(later(now, minutes + len(drawn) * per.fetch_medicine + work.hours * 60), timetable)
    return Cost(
        minutes=minutes,
        placements=placed,
        drawn=drawn,
        waste=_amounts(work.wasted),
        disturbed=work.disturbed,
        errors=(placed + taken) * rates.errors.per_piece * rates.errors.missed_by_check,
        ready_for=ready,
        at_risk=sum(when < ready for when in affected),
    )


def score(cost: Cost, rates: Rates) -> Fraction:
    """The cost in minutes, everything weighed, but for the bottles."""
    weights = rates.weights
    return (
        cost.minutes
        + sum(cost.waste.values(), Fraction(0)) * weights.unit_wasted
        + cost.disturbed * weights.cavity_disturbed
        + cost.at_risk * weights.dose_at_risk
        + cost.errors * weights.error
    )


def draws(costs: Iterable[Cost]) -> dict[MedicineCode, Fraction]:
    """What the bottles give for all of them together."""
    sums: dict[MedicineCode, Fraction] = {}
    for code, count in (drawn for cost in costs for drawn in cost.drawn.items()):
        sums[code] = sums.get(code, Fraction(0)) + count
    return dict(sorted(sums.items()))


def leftover(count: Fraction) -> Fraction:
    """What remains of the last whole unit when so much is cut from whole ones (19 halves take 10 tablets, half a tablet remains)."""
    return ceil(count) - count


def _pieces(contents: Sequence[Content]) -> int:
    return sum(how_many(content.quantity.count) * times for content, times in _tally(contents))


def _amounts(contents: Sequence[Content]) -> dict[MedicineCode, Fraction]:
    found: dict[MedicineCode, Fraction] = {}
    for content, times in _tally(contents):
        found[content.medicine] = found.get(content.medicine, Fraction(0)) + content.quantity.count * times
    return dict(sorted(found.items()))


def _tally(contents: Sequence[Content]) -> Iterable[tuple[Content, int]]:
    """Each content with how often it is there. The days of a column mostly share theirs, so that few are left to be added up."""
    often = Counter(map(id, contents))
    one_of = {id(content): content for content in contents}
    return ((one_of[at], times) for at, times in often.items())


def later(moment: Moment, minutes: Fraction) -> Moment:
    """So many minutes later by the clock, rounded up."""
    then = datetime.combine(moment.day, moment.time) + timedelta(minutes=ceil(minutes))
    return Moment(then.date(), then.time())


def next_dosing_time(moment: Moment, timetable: Timetable) -> When:
    """The first dosing time at the moment or later."""
    today = next((slot for slot in timetable.slots if slot.time >= moment.time), None)
    if today is not None:
        return moment.day, today.time
    return moment.day + timedelta(days=1), timetable.slots[0].time
