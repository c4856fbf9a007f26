"""A simulated year of people whose orders change: what putting their cards right costs, beside filling afresh.

Thirteen cycles of four weeks. Changes come at 0.8 a person and month (assumed in the middle of the demo's 0.6 to 1.0), in the published
mix; 52 of a hundred count at once, as published, the others from the next cycle's first day, when nothing of it is packed yet and no card
has to be touched. A card is brought to its person on its first day (assumed), and is at the bench's shelf before.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, time, timedelta
from fractions import Fraction
from random import Random

from benchmarks._drawn_changes import RATES, drawn_change, one_by_one
from benchmarks.planning import FIRST, published
from dosewright.core.packing.fingerprint import fingerprint_of_setting
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Card
from dosewright.core.packing.request import PlanRequest
from dosewright.core.rework.asked import ask
from dosewright.core.rework.choices import Case, Choice, ChoiceName, fill_afresh
from dosewright.core.rework.cost import draws, leftover
from dosewright.core.rework.difference import compare
from dosewright.core.rework.layout import PersonLayout, lay_out
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.situation import OpenCard, Place, Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import PersonId

__all__ = ["Year", "live_a_year"]

_CYCLES, _DAYS = 13, 28
_A_DAY = 0.8 * 12 / 365  # changes a person
_AT_ONCE = 0.52
_WHAT = ("minutes at the bench", "pieces placed", "units wasted", "cavities opened", "doses due before it is ready")


@dataclass(slots=True)
class Year:
    """Sums over a year: of the best combination, of filling afresh what a change touches, and of filling all open cards afresh."""

    people: int
    changes: int = 0
    at_once: int = 0
    touching: int = 0
    chosen: Counter[str] = field(default_factory=Counter)
    sums: dict[str, list[Fraction]] = field(default_factory=lambda: {what: [Fraction(0)] * 3 for what in _WHAT})

    def add(self, ways: Iterable[Sequence[Choice]]) -> None:
        """What each of the three ways would cost for one change."""
        for at, chosen in enumerate(ways):
            for what, amount in zip(_WHAT, _amounts(chosen), strict=True):
                self.sums[what][at] += amount

    def table(self) -> list[str]:
        """The figures as lines."""
        named = ", ".join(f"{name} {many}" for name, many in self.chosen.most_common())
        lines = [
            f"A year of {self.people} people: {self.changes} changes, {self.at_once} at once, of which {self.touching} touch cards.",
            f"Best by the shipped weights: {named}. Each was counted again: no dose differs and no unit is missing.",
            "",
            f"{'':<30}{'put right':>10}  {'touched cards afresh':>22}  {'all open cards afresh':>22}",
        ]
        for what, (best, *others) in self.sums.items():
            beside = (_beside(float(best), other) for other in map(float, others))
            lines.append(f"{what:<30}{float(best):>10,.0f}  " + "  ".join(f"{text:>22}" for text in beside))
        return lines


def _beside(best: float, other: float) -> str:
    """What the other way comes to, and how much less or more the best is."""
    if not other:
        return "0"
    share = 100 * (1 - best / other)
    return f"{other:,.0f} ({abs(share):.0f} % {'saved' if share >= 0 else 'more'})"


def live_a_year(people: int = 300, seed: int = 300) -> Year:
    """Everybody's year, one after the other."""
    year = Year(people)
    for number, request in enumerate(one_by_one(published(people, seed))):
        _live(request, Random(f"{seed} {number}"), year)
    return year


def _live(request: PlanRequest, random: Random, year: Year) -> None:
    for cycle in range(_CYCLES):
        first = FIRST + timedelta(days=_DAYS * cycle)
        going_on = tuple(order for order in request.orders if order.until is None or order.until > Moment(first))
        request = replace(request, first=first, prepared_on=first - timedelta(days=3), orders=going_on)
        (planned,) = plan_cycle(request).people
        cards, later = planned.cards, 0
        for at in _moments(first, random):
            year.changes += 1
            if random.random() < _AT_ONCE:
                after = replace(request, orders=drawn_change(request, random, at), prepared_on=at.day)
                cards = _put_right(Situation(request, after, at, at, _open(cards, planned.person, at), RATES), year)
                request = after
            else:
                later += 1
        for _ in range(later):
            request = replace(request, orders=drawn_change(request, random, Moment(first + timedelta(days=_DAYS))))


def _moments(first: date, random: Random) -> list[Moment]:
    """Of each day of the cycle on which a change comes the day and the time of it, between nine and five."""
    days = [first + timedelta(days=n) for n in range(_DAYS) if random.random() < _A_DAY]
    return [Moment(day, time(random.randint(9, 16), 30)) for day in days]


def _open(cards: Iterable[Card], person: PersonId, at: Moment) -> tuple[OpenCard, ...]:
    """Everything that was due is given. A card that has begun is at home."""
    return tuple(
        OpenCard(
            card,
            person,
            Place.HOME if card.first <= at.day else Place.SHELF,
            frozenset((c.row, c.column) for c in card.cavities if Moment(c.day, c.time) < at),
        )
        for card in cards
    )


def _put_right(case: Situation, year: Year) -> tuple[Card, ...]:
    """The best combination is carried out."""
    (layout,) = lay_out(case)
    assert check_layout(layout, case) == ()
    assert not layout.held
    assert not layout.left
    year.at_once += 1
    if layout.chosen:
        year.touching += 1
        year.chosen.update(str(choice.name) for choice in layout.chosen)
        year.add((layout.chosen, _touched_afresh(layout), _all_afresh(layout, case)))
    return tuple(laid.card for laid in layout.laid)


def _touched_afresh(layout: PersonLayout) -> tuple[Choice, ...]:
    """Every group of cards that the change touches, afresh; the whole at once where only that makes a card for every dose."""
    fresh = [choice for choice in layout.choices if choice.name is ChoiceName.AFRESH and choice.lawful]
    whole = [one for one in fresh if all(set(other.cards) <= set(one.cards) for other in fresh)]
    return tuple(one for one in fresh if one not in whole) or tuple(whole[:1])


def _all_afresh(layout: PersonLayout, case: Situation) -> tuple[Choice, ...]:
    """All of the person's open cards, whatever the change touches."""
    differences = compare(case.cards_of(layout.person.id), ask(layout.person, case.after, case.at), case.at, case.after)
    asked = ask(layout.person, case.after, case.at)
    days = (case.at.day, case.after.last)
    one = Case(layout.person, case, (), fingerprint_of_setting(case.after))
    return (fill_afresh(differences.cards, differences.unplaced, days, asked.medicines(), one),)


def _amounts(chosen: Sequence[Choice]) -> tuple[Fraction, ...]:
    """As named in `_WHAT`; a bottle is fetched once for all of them, and what is left of a cut unit is waste."""
    costs = [choice.cost for choice in chosen]
    drawn = draws(costs)
    wasted = sum((count for cost in costs for count in cost.waste.values()), Fraction(0))
    return (
        sum((cost.minutes for cost in costs), Fraction(0)) + len(drawn) * RATES.minutes.fetch_medicine,
        Fraction(sum(cost.placements for cost in costs)),
        wasted + sum(map(leftover, drawn.values()), Fraction(0)),
        Fraction(sum(cost.disturbed for cost in costs)),
        Fraction(sum(cost.at_risk for cost in costs)),
    )
