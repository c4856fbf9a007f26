"""Whole proposals against counting: every choice of dosing times there is, judged by rules written out once more from their sources.

Nothing of the product judges here: what words leave free, gaps, meals and separation are tables of this file. Sources: the published
separation rules (levothyroxine four hours from calcium and iron; ciprofloxacin two hours before or six after either; iron two hours from
calcium); cautionary labels 21 and 23 of the British National Formulary, from memory.
"""

from dataclasses import dataclass
from itertools import combinations, product

from hypothesis import event, given, settings
from hypothesis import strategies as st
from tests.core.packing.times_makers import proposal, written

from dosewright.core.packing.dosing_times.times_values import Proposal

Hours = tuple[int, ...]
CLOCK: Hours = (8, 12, 18, 22)
MEALS = frozenset({8, 12, 18})
# words → today's hours, how it goes with food, whether the words name the time, weekly
TEXTS: dict[str, tuple[Hours, str, bool, bool]] = {
    "Take 1 tablet once daily": ((8,), "", False, False),
    "Take 1 tablet once daily with food": ((8,), "with", False, False),
    "Take 1 tablet once daily on an empty stomach": ((8,), "empty", False, False),
    "Take 1 tablet twice a day": ((8, 18), "", False, False),
    "Take 1 tablet twice a day with food": ((8, 18), "with", False, False),
    "Take 1 tablet three times a day": ((8, 12, 18), "", False, False),
    "Take 1 tablet in the morning": ((8,), "", True, False),
    "Take 1 tablet in the evening": ((18,), "", True, False),
    "Take 1 tablet at bedtime": ((22,), "", True, False),
    "Take 1 tablet once a week on Sunday": ((8,), "", False, True),
}
OWN_TIME = frozenset({"levothyroxine"})
FOOD = {"levothyroxine": "empty", "perindopril": "empty", "metformin": "with"}
BINDERS = ("calcium carbonate", "ferrous fumarate")


@dataclass(frozen=True)
class Taken:
    """One order as this file understands it."""

    what: str
    text: str

    @property
    def today(self) -> Hours:
        return TEXTS[self.text][0]

    @property
    def food(self) -> str:
        return TEXTS[self.text][1] or FOOD.get(self.what, "")

    @property
    def days(self) -> range:
        """Of four weeks from a Monday, and some days more."""
        return range(6, 35, 7) if TEXTS[self.text][3] else range(35)

    @property
    def doses(self) -> int:
        return len([day for day in self.days if day < 28])

    @property
    def options(self) -> list[Hours]:
        if TEXTS[self.text][2] or self.what in OWN_TIME:
            return [self.today]
        around = gaps(self.today)
        fits = [
            hours for hours in combinations(CLOCK, len(self.today)) if min(around) <= min(gaps(hours)) and max(gaps(hours)) <= max(around)
        ]
        return [hours for hours in fits if hours == self.today or self.food != "with" or set(hours) <= MEALS]

    def moments(self, hours: Hours) -> list[int]:
        return [24 * day + hour for day in self.days for hour in hours]


def gaps(hours: Hours) -> list[int]:
    return [(later - sooner - 1) % 24 + 1 for sooner, later in zip(hours, (*hours[1:], hours[0]), strict=True)]


def too_close(one: Taken, ones: Hours, other: Taken, others: Hours) -> bool:
    before, after = apart(one.what, other.what)
    return any(-after < there - here < before for here in one.moments(ones) for there in other.moments(others))


def apart(one: str, other: str) -> tuple[int, int]:
    """Hours that the first must come before the second, or after it."""
    if other in BINDERS and one == "levothyroxine":
        return 4, 4
    if other in BINDERS and one == "ciprofloxacin":
        return 2, 6
    return (2, 2) if (one, other) == ("ferrous fumarate", "calcium carbonate") else (0, 0)


def meet(one: Taken, ones: Hours, other: Taken, others: Hours) -> bool:
    return {one.food, other.food} == {"with", "empty"} and not set(one.moments(ones)).isdisjoint(other.moments(others))


def clash(one: Taken, ones: Hours, other: Taken, others: Hours) -> bool:
    if len(one.options) == len(other.options) == 1:
        return False
    if too_close(one, ones, other, others) or too_close(other, others, one, ones):
        return True
    return meet(one, ones, other, others) and not meet(one, one.today, other, other.today)


def counted(regimen: list[Taken], *, excused: bool) -> tuple[int, int, int] | None:
    """Dosing times, doses moved, hours moved: the best of every choice; None where none keeps every rule."""
    found = []
    for choice in product(*(one.options for one in regimen)):
        pairs = combinations(zip(regimen, choice, strict=True), 2)
        if any(clash(a, x, b, y) and not (excused and x == a.today and y == b.today) for (a, x), (b, y) in pairs):
            continue
        moved = [
            (one.doses, abs(h - t))
            for one, hours in zip(regimen, choice, strict=True)
            for t, h in zip(one.today, hours, strict=True)
            if t != h
        ]
        found.append((len({hour for hours in choice for hour in hours}), sum(n for n, _ in moved), sum(n * far for n, far in moved)))
    return min(found, default=None)


def valued(found: Proposal, regimen: list[Taken]) -> tuple[int, int, int]:
    far = 0
    for move in found.moves:
        doses = regimen[int(move.order.id[1:])].doses
        far += sum(doses * abs(here.time.hour - there.time.hour) for here, there in zip(move.today, move.proposed, strict=True))
    return len(found.proposed), sum(move.doses for move in found.moves), far


PRODUCTS = (
    "Alpha",
    "Beta",
    "Gamma",
    "Delta",
    "levothyroxine",
    "calcium carbonate",
    "ferrous fumarate",
    "ciprofloxacin",
    "metformin",
    "perindopril",
)


@settings(max_examples=60)
@given(st.lists(st.sampled_from(PRODUCTS), min_size=1, max_size=6, unique=True), st.data())
def test_a_proposal_is_as_good_as_the_best_of_every_choice(products: list[str], data: st.DataObject) -> None:
    regimen = [Taken(what, data.draw(st.sampled_from(list(TEXTS)))) for what in products]
    found = proposal(*(written(f"o{at}", one.what, one.text) for at, one in enumerate(regimen)))
    best = counted(regimen, excused=False) or counted(regimen, excused=True)
    event("moves" if found.moves else "stays")
    assert valued(found, regimen) == best
    assert found.proof.optimal
