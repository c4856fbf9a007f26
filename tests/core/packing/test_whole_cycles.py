"""Whole cycles: weeks that differ, odd lengths, any first weekday. The fewest cards against an independent model of everything at once."""

import os
from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import combinations, pairwise, product
from random import Random

import pytest
from tests.core.packing.makers import IRIS, MONDAY, ROLL, SEVEN_BY_FOUR, dosage, medicine, order, plan_of, profile, request
from tests.core.packing.whole_cycle_model import fewest_cards, fewest_pouches

from dosewright.core.medicines.medicine import Size
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.packing.cards import card_count
from dosewright.core.packing.places import places_of
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Weekday
from dosewright.core.units.dosing_time import Moment

# Cycles of each length; DOSEWRIGHT_CYCLE_INSTANCES=500 is the nightly size.
INSTANCES = int(os.environ.get("DOSEWRIGHT_CYCLE_INSTANCES", "12"))
LENGTHS = (7, 14, 28, 30, 31)
NARROW = replace(SEVEN_BY_FOUR, name="test-7x3", columns=3)


def cycle(days: int, seed: int) -> PlanRequest:
    """A handful of medicines, most of them for the whole cycle; courses that end, tapers, changes that begin in week 3, pairs apart."""
    random = Random(f"cycle {days} {seed}")  # noqa: S311 - reproducible cases, nothing secret
    names = ["Alpha", "Beta", "Gamma", "Delta", "Epsilon", "Zeta", "Eta"][: random.randint(2, 7)]
    sizes = [(Fraction(random.randint(12, 26), 2), Fraction(random.randint(4, 12), 2)) for _ in names]
    catalogue = [medicine(name, size=Size(side, side, thick)) for name, (side, thick) in zip(names, sizes, strict=True)]
    first = MONDAY + timedelta(days=random.randrange(7))
    orders = []
    for number, what in enumerate(catalogue):
        whens = random.sample(["MORN", "NOON", "EVE", "HS"], random.choice((1, 1, 2)))
        days_of_week = random.choice(([], [], [], [Weekday.MON], [Weekday.TUE, Weekday.FRI]))
        made = order(f"o{number}", what, dosage(random.choice(("1", "1", "2", "0.5", "3")), *whens, days=days_of_week))
        turn = Moment(first + timedelta(days=random.randint(1, max(1, days - 1))))
        kind = random.choice(("all", "all", "ends", "begins", "taper"))
        if kind == "ends":
            made = replace(made, until=turn)
        elif kind == "begins":
            made = replace(made, since=turn)
        elif kind == "taper":
            orders.append(replace(order(f"o{number}t", what, dosage("4", *whens)), until=turn))
            made = replace(made, since=turn)
        orders.append(made)
    pairs = tuple(
        PairRule(f"pair.{at}", (one.code,), (other.code,), "apart", "test", "2026", "proposal")
        for at, (one, other) in enumerate(pairwise(catalogue))
        if random.random() < 0.4
    )
    expiries = {what.code: first + timedelta(days=random.choice((6, 13, 20, 27, 34, 34, 34, 34, 34))) for what in catalogue}
    orders = [replace(one, until=_earlier(one.until, Moment(expiries[one.medicine] + timedelta(days=1)))) for one in orders]
    weeks = random.randint(1, 5)
    form = random.choice((SEVEN_BY_FOUR, SEVEN_BY_FOUR, NARROW))
    return request(orders, catalogue, days=days, first=first, pairs=pairs, profile=profile(weeks_a_card_max=weeks), format=form,
                   expiries=expiries)  # fmt: skip


def _earlier(one: Moment | None, other: Moment) -> Moment:
    return min(one, other) if one else other


@pytest.mark.parametrize("days", LENGTHS)
def test_no_way_to_lay_the_whole_cycle_needs_fewer_cards(days: int) -> None:
    differing = 0
    for seed in range(INSTANCES):
        asked = cycle(days, seed)
        (person,) = plan_of(asked).people
        most = asked.profile.number("weeks_a_card_max")
        assert len(person.cards) == person.proof.cards == person.proof.cards_lower_bound == fewest_cards(asked, most), seed
        differing += len({tuple(sorted(week.values())) for week in _weeks(person, asked).values()}) > 1
    assert days == 7 or differing  # the cases are not all alike from week to week


def test_weeks_share_a_card_only_where_all_in_them_keeps() -> None:
    """Alpha is taken in the first week only, and its lot ends with it: that week has a card of its own, and nothing is refused."""
    alpha, beta = medicine("Alpha"), medicine("Beta")
    orders = [
        replace(order("o1", alpha, dosage(1, "MORN")), until=Moment(MONDAY + timedelta(days=7))),
        order("o2", beta, dosage(1, "MORN")),
    ]
    asked = request(orders, [alpha, beta], expiries={alpha.code: MONDAY + timedelta(days=6)})
    (person,) = plan_of(asked).people
    assert [(card.first, card.last, card.beyond_use) for card in person.cards] == [
        (MONDAY, MONDAY + timedelta(days=6), MONDAY + timedelta(days=6)),
        (MONDAY + timedelta(days=7), MONDAY + timedelta(days=27), date(2026, 4, 28)),
    ]
    assert person.proof.cards == person.proof.cards_lower_bound == fewest_cards(asked, 4) == 2


def _weeks(person: PersonPlan, asked: PlanRequest) -> dict[int, dict[tuple[str, str], int]]:
    """For each week in which column of its dosing time each medicine lies."""
    found: dict[int, dict[tuple[str, str], int]] = defaultdict(dict)
    for card in person.cards:
        parts = {column.column: column.part for column in card.columns}
        for cavity in card.cavities:
            week = (cavity.day - asked.first).days // asked.format.rows
            for content in cavity.contents:
                found[week][cavity.slot, content.medicine] = parts[cavity.column]
    return found


@pytest.mark.parametrize("days", [7, 14])
def test_no_way_to_fill_a_roll_needs_fewer_pouches(days: int) -> None:
    for seed in range(INSTANCES):
        asked = replace(cycle(days, seed), format=ROLL, expiries={})
        (person,) = plan_of(asked).people
        pouches = sum(len(card.columns) for card in person.cards)
        assert pouches == fewest_pouches(asked), seed
        assert len(person.cards) == -(-pouches // ROLL.columns) == person.proof.cards_lower_bound


def test_a_strip_of_a_roll_ends_where_what_is_in_it_would_not_keep() -> None:
    """Alpha is taken on the first three days, and its lot ends with them: the strip does too, though it has room for fourteen pouches."""
    alpha, beta = medicine("Alpha"), medicine("Beta")
    orders = [
        replace(order("o1", alpha, dosage(1, "MORN")), until=Moment(MONDAY + timedelta(days=3))),
        order("o2", beta, dosage(1, "MORN")),
    ]
    asked = request(orders, [alpha, beta], days=14, format=ROLL, expiries={alpha.code: MONDAY + timedelta(days=2)})
    (person,) = plan_of(asked).people
    assert [(card.first.day, card.last.day) for card in person.cards] == [(2, 4), (5, 15)]


@dataclass(frozen=True, slots=True)
class Stays:
    """One dosing time on cards of three columns: for each medicine its first and last week, and which two may not lie together."""

    weeks: tuple[tuple[int, int], ...]
    apart: frozenset[tuple[int, int]]

    def asked(self) -> PlanRequest:
        catalogue = [medicine(f"M{at}") for at in range(len(self.weeks))]
        orders = [
            replace(order(f"o{at}", what, dosage(1, "MORN")), since=_week(first), until=_week(last + 1))
            for at, (what, (first, last)) in enumerate(zip(catalogue, self.weeks, strict=True))
        ]
        pairs = tuple(PairRule(f"p{a}{b}", (f"m{a}",), (f"m{b}",), "apart", "test", "2026", "proposal") for a, b in self.apart)
        return request(orders, catalogue, pairs=pairs, format=NARROW)

    def taken(self, week: int) -> list[int]:
        return [at for at, (first, last) in enumerate(self.weeks) if first <= week <= last]

    def together(self, week: int) -> set[tuple[int, int]]:
        """Pairs that may not lie together and are both taken in that week."""
        return {pair for pair in self.apart if set(pair) <= set(self.taken(week))}

    def best_kept(self) -> tuple[int, int]:
        """Of all ways to give each medicine one column for good: the fewest cards, then the fewest columns in the fullest week."""
        every = product(range(len(self.weeks)), repeat=len(self.weeks))
        allowed = (at for at in every if not any(at[a] == at[b] for week in range(4) for a, b in self.together(week)))
        used = ([len({at[one] for one in self.taken(week)}) for week in range(4)] for at in allowed)
        return min((card_count(columns, NARROW.columns, 4), max(columns)) for columns in used)


def _week(number: int) -> Moment:
    return Moment(MONDAY + timedelta(days=7 * number))


def _kept(person: PersonPlan, asked: PlanRequest) -> bool:
    """Whether no two medicines that share a column in one week lie in two in another: none has changed its place among the others."""
    weeks = [{code: at for (_, code), at in week.items()} for week in _weeks(person, asked).values()]
    group: dict[str, str] = {}

    def root(code: str) -> str:
        while group.setdefault(code, code) != code:
            code = group[code]
        return code

    for week in weeks:
        for one, other in combinations(week, 2):
            if week[one] == week[other]:
                group[root(one)] = root(other)
    return all(week[one] == week[other] for week in weeks for one, other in combinations(week, 2) if root(one) == root(other))


def _drawn(seed: int) -> Stays:
    random = Random(f"stays {seed}")  # noqa: S311 - reproducible cases, nothing secret
    weeks = tuple((a, b) for a, b in (sorted((random.randrange(4), random.randrange(4))) for _ in range(random.randint(3, 5))))
    return Stays(weeks, frozenset(pair for pair in combinations(range(len(weeks)), 2) if random.random() < 0.45))


def test_every_place_is_kept_where_any_way_to_keep_them_costs_nothing() -> None:
    """Every way to give each medicine one column for good is the oracle."""
    kept = 0
    for seed in range(60 if INSTANCES < 100 else 1000):
        stays = _drawn(seed)
        asked = stays.asked()
        (person,) = plan_of(asked).people
        if stays.best_kept() == (len(person.cards), person.proof.columns):
            kept += 1
            assert _kept(person, asked), seed
    assert kept > 30


@pytest.mark.parametrize("seed", range(INSTANCES))
def test_places_are_kept_from_cycle_to_cycle_and_cost_no_card(seed: int) -> None:
    asked = cycle(28, seed)
    (before,) = plan_of(asked).people
    (after,) = plan_of(replace(asked, places={IRIS.id: places_of(before)})).people
    assert (after.proof.columns, after.proof.cards) == (before.proof.columns, before.proof.cards)


@pytest.mark.parametrize("days", LENGTHS)
@pytest.mark.parametrize("weekday", range(7))
def test_every_dose_of_a_cycle_has_its_day_whatever_its_length_and_first_weekday(days: int, weekday: int) -> None:
    """Counted on the calendar: a daily tablet on every day, a Thursday tablet on every Thursday of the cycle."""
    daily, weekly = medicine("Alpha"), medicine("Beta")
    first = MONDAY + timedelta(days=weekday)
    asked = request([order("o1", daily, dosage(1, "MORN")), order("o2", weekly, dosage(1, "MORN", days=[Weekday.THU]))], [daily, weekly],
                    days=days, first=first)  # fmt: skip
    (person,) = plan_of(asked).people
    held: dict[str, list[date]] = defaultdict(list)
    for cavity in (cavity for card in person.cards for cavity in card.cavities):
        for content in cavity.contents:
            held[content.medicine].append(cavity.day)
    calendar = [first + timedelta(days=at) for at in range(days)]
    assert sorted(held["alpha"]) == calendar
    assert sorted(held["beta"]) == [day for day in calendar if day.isoweekday() == 4]
    assert len(person.cards) == -(-days // 28)
