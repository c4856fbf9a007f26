"""One person's weeks as an explanation looks at them: each dosing time in each week packed by itself, each problem solved once.

Comes in: a person, the request, the dosing times' loads. Goes out: columns week by week, the fullest week, how many cards they come to.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from dosewright.core.packing.cards import DraftColumn, card_count
from dosewright.core.packing.load import Item, Load, problem_on
from dosewright.core.packing.person_plan import most_weeks_of, weeks_of
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.rolls import roll_pouches, strips_of
from dosewright.core.packing.sharing import sharing
from dosewright.core.packing.solve import Problem, Solution, solve
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["Fullest", "PersonWeeks", "Weeks"]

Weeks = list[int]  # a number for each week


@dataclass(frozen=True, slots=True)
class Fullest:
    """One dosing time in the week in which it needs most columns."""

    load: Load
    items: tuple[Item, ...]
    problem: Problem
    solution: Solution


class PersonWeeks:
    """One person's weeks, each problem of them solved once."""

    def __init__(self, person: Person, request: PlanRequest) -> None:
        self.person, self.request = person, request
        self.weeks = weeks_of(request)
        self._known: dict[Problem, Solution] = {}

    def used(self, load: Load) -> Weeks:
        """The fewest columns of each week."""
        return [self._solve(load, week)[2].count for week in range(len(self.weeks))]

    def fullest(self, load: Load) -> Fullest:
        """The first week that needs most columns."""
        used = self.used(load)
        return Fullest(load, *self._solve(load, used.index(max(used))))

    def cards(self, used: Sequence[int], loads: Sequence[Load]) -> int:
        """How many cards, or strips of a roll, so many columns in each week need. `loads` are what lies in them: how long it keeps."""
        if self.request.format.roll:
            return len(self.strips(loads))
        return card_count(used, self.request.format.columns, self.most_weeks, sharing(loads, self.weeks, self.request))

    def strips(self, loads: Sequence[Load]) -> list[list[DraftColumn]]:
        """The pouches of each strip of a roll, as they are planned: as many as it takes and as keep together."""
        packed = [load for load in loads if load.items]
        return strips_of(roll_pouches(packed, self.request).pouches, self.request) if packed else []

    @property
    def most_weeks(self) -> int:
        """How many weeks one card of this person may hold."""
        return most_weeks_of(self.person, self.request)

    def note(self, code: str, load: Load | None = None, **facts: Fact) -> Finding:
        """About one dosing time, or about the set."""
        where: dict[str, Fact] = {"person": self.person.id, **({"slot": load.slot} if load else {})}
        return Finding(code, Severity.NOTE, where, {"name": self.person.name, **({"time": load.time} if load else {}), **facts})

    def _solve(self, load: Load, week: int) -> tuple[tuple[Item, ...], Problem, Solution]:
        items = tuple(item for item in load.items if item.due_in(self.weeks[week]))
        problem = problem_on(items, self.weeks[week], self.request)
        if problem not in self._known:
            self._known[problem] = solve(problem)
        return items, problem, self._known[problem]
