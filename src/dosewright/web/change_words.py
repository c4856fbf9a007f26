"""A change in words and numbers, as the desk says them: what, from when, how much a day before and after; what a choice costs.

Comes in: core's `Brief`, choices, costs. Goes out: lines for templates. No rule is in here.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from math import ceil

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.medicine_words import named, total_or_none, total_words
from dosewright.core.rework.brief import Brief, BriefKind
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.cost import Cost, leftover
from dosewright.core.rework.rates import Rates
from dosewright.core.rework.situation import Place
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, MedicineCode

__all__ = ["PLACES", "BriefLine", "ChoiceLine", "CostLine", "When", "brief_lines", "choice_words", "cost_line", "say_when"]

_KINDS = {
    BriefKind.STARTED: "New",
    BriefKind.STOPPED: "Stopped",
    BriefKind.RAISED: "More",
    BriefKind.LOWERED: "Less",
    BriefKind.MOVED: "Other times",
    BriefKind.SWAPPED: "Another product",
    BriefKind.OTHERWISE: "Other days",
    BriefKind.OPEN: "Other directions",
}
PLACES = {
    Place.BENCH: "on the bench",
    Place.SHELF: "on the shelf, sealed",
    Place.DELIVERY: "on its way, handed over",
    Place.HOME: "in the home",
    Place.PERSON: "with the person",
    Place.MISSING: "not found",
}
_CHOICES = {
    ChoiceName.WAIT: "It may wait: the card runs out as it is",
    ChoiceName.OPEN: "Open and put right",
    ChoiceName.MOVE: "Move over to a new card",
    ChoiceName.AFRESH: "Fill afresh, withdraw the old one",
    ChoiceName.ADD: "Add a card beside it",
    ChoiceName.RECALL: "Call it back and put it right",
}


@dataclass(frozen=True, slots=True)
class When:
    """A dosing time on a day; `word` is the timetable's name for it, "" where it has none."""

    day: date
    time: time
    word: str


@dataclass(frozen=True, slots=True)
class BriefLine:
    """One medicine. `before`, `after` in `span` ("a day", "in 7 days"); `times` before and after, where they differ."""

    kind: str
    name: str
    since: When | None
    before: str
    after: str
    span: str
    times: tuple[str, str]
    until: When | None


@dataclass(frozen=True, slots=True)
class CostLine:
    """What something costs, as figures that people compare. `errors`: one in so many, 0 where none is expected."""

    minutes: int
    placements: int
    wasted: str
    disturbed: int
    at_risk: int
    errors: int
    ready: When | None


@dataclass(frozen=True, slots=True)
class ChoiceLine:
    """One thing that can be done. `value` is what the form sends; `why_not`: the findings that make it unlawful; `asks`: what it asks to be
    decided; `best`: it is in the recommended combination."""

    value: str
    words: str
    cards: tuple[CardNumber, ...]
    lawful: bool
    best: bool
    cost: CostLine
    asks: tuple[Finding, ...]
    why_not: tuple[Finding, ...]


def say_when(when: tuple[date, time] | Moment | None, timetable: Timetable) -> When | None:
    """The moment as a dosing time."""
    if when is None:
        return None
    day, clock = (when.day, when.time) if isinstance(when, Moment) else when
    slot = timetable.at(clock)
    return When(day, clock, str(slot.name) if slot else "")


def brief_lines(
    briefs: Iterable[Brief], medicines: Mapping[MedicineCode, Medicine], timetable: Timetable, country: str
) -> tuple[BriefLine, ...]:
    """What changes, line by line."""
    return tuple(_brief_line(one, medicines, timetable, country) for one in briefs)


def _brief_line(one: Brief, medicines: Mapping[MedicineCode, Medicine], timetable: Timetable, country: str) -> BriefLine:
    was, now = named(medicines[one.was], country), named(medicines[one.now], country)
    name = was if one.was == one.now else f"{was} → {now}"
    times = tuple(", ".join(f"{at:%H:%M}" for at in some) for some in one.times)
    differ = times if times[0] != times[1] and all(times) else ("", "")
    return BriefLine(
        kind=_KINDS[one.kind],
        name=name,
        since=say_when(one.since, timetable),
        before=total_or_none(medicines[one.was], one.before),
        after=total_or_none(medicines[one.now], one.after),
        span="a day" if one.days == 1 else f"in {one.days} days",
        times=(differ[0], differ[1]),
        until=say_when(one.until, timetable),
    )


def choice_words(choice: Choice, *, header: bool) -> str:
    """What will be done; a card of which nothing but the header changes stays closed."""
    return "Leave it closed, new header" if header else _CHOICES[choice.name]


def cost_line(costs: Sequence[Cost], rates: Rates, medicines: Mapping[MedicineCode, Medicine], timetable: Timetable) -> CostLine:
    """Several choices together: each bottle is fetched once, halves are cut for all of them from the fewest units."""
    drawn: dict[MedicineCode, Fraction] = {}
    wasted: dict[MedicineCode, Fraction] = {}
    for cost in costs:
        for sums, found in ((drawn, cost.drawn), (wasted, cost.waste)):
            for code, count in found.items():
                sums[code] = sums.get(code, Fraction(0)) + count
    for code, count in drawn.items():
        if leftover(count):
            wasted[code] = wasted.get(code, Fraction(0)) + leftover(count)
    minutes = sum((cost.minutes for cost in costs), Fraction(0)) + len(drawn) * rates.minutes.fetch_medicine
    errors = sum((cost.errors for cost in costs), Fraction(0))
    ready = max((cost.ready_for for cost in costs if cost.ready_for), default=None)
    return CostLine(
        minutes=ceil(minutes),
        placements=sum(cost.placements for cost in costs),
        wasted=", ".join(f"{total_words(medicines[code], count)} of {medicines[code].label}" for code, count in sorted(wasted.items())),
        disturbed=sum(cost.disturbed for cost in costs),
        at_risk=sum(cost.at_risk for cost in costs),
        errors=int(1 / errors) if errors else 0,
        ready=say_when(ready, timetable),
    )
