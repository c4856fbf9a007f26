"""What two orders may not do together: their dosing times and days in, the rule that a pair of choices breaks out.

Doses closer in time than a spacing rule allows, past midnight too; one for an empty stomach at one dosing time with one for with food. Two
orders that both stay are nobody's choice: what they break today stands, and is said.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.spacing import SpacingRule, concerns
from dosewright.core.medicines.time_of_day import MealRelation
from dosewright.core.packing.dosing_times.freedom import Times, minute_of
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import DosingTime
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import SlotName

__all__ = ["Candidate", "Clash", "clashes_of", "standing_between"]

_DAY = 24 * 60  # minutes
_ON_FOOD = frozenset({MealRelation.WITH})
_OFF_FOOD = frozenset({MealRelation.BEFORE, MealRelation.EMPTY})


@dataclass(frozen=True, slots=True)
class Candidate:
    """One order with its options, today's first, and the days on which it is due: at each of today's dosing times, and at any."""

    order: Order
    medicine: Medicine | None
    relation: MealRelation
    options: tuple[Times, ...]
    days: dict[SlotName, frozenset[int]]

    @property
    def free(self) -> bool:
        """Whether there is anything to choose."""
        return len(self.options) > 1

    def days_at(self, slot: DosingTime) -> frozenset[int]:
        """Due days at that dosing time; an order that moves is taken to be due at each of its times on all its days."""
        return frozenset().union(*self.days.values()) if self.free else self.days.get(slot.name, frozenset())


@dataclass(frozen=True, slots=True)
class Clash:
    """Option `one` of the first order does not go with option `other` of the second, because of `about`."""

    one: int
    other: int
    about: Finding


def clashes_of(first: Candidate, second: Candidate, spacings: tuple[SpacingRule, ...]) -> tuple[Clash, ...]:
    """Every pair of options that breaks a rule, with the first rule that it breaks; none between two orders that stay."""
    if not (first.free or second.free):
        return ()
    pair = _Pair(first, second, spacings)
    options = ((a, b, one, other) for a, one in enumerate(first.options) for b, other in enumerate(second.options))
    return tuple(Clash(a, b, about) for a, b, one, other in options if (about := pair.broken(one, other)))


def standing_between(first: Candidate, second: Candidate, spacings: tuple[SpacingRule, ...]) -> Finding | None:
    """The first spacing rule that the two break today and that no choice is held to; None where there is none."""
    return _Pair(first, second, spacings).standing()


class _Pair:
    """The rules that concern two orders; each pair of dosing times is judged once."""

    def __init__(self, first: Candidate, second: Candidate, spacings: tuple[SpacingRule, ...]) -> None:
        self._first, self._second = first, second
        self._known: dict[tuple[SlotName, SlotName], Finding | None] = {}
        concerned = [(rule, swap) for rule in spacings for swap in (False, True) if self._concerned(rule, swap=swap)]
        chosen = first.free or second.free
        self._rules = [each for each in concerned if chosen and not self._own_matter(each[0], swap=each[1])]
        self._let_be = [each for each in concerned if each not in self._rules]

    def standing(self) -> Finding | None:
        """The first of the rules that are let be which today's times break."""
        today = product(self._first.options[0], self._second.options[0])
        return next((found for s, t in today for found in self._too_close_by(self._let_be, s, t, "times.stands")), None)

    def broken(self, one: Times, other: Times) -> Finding | None:
        """The first rule that these two choices break."""
        return next((found for s in one for t in other if (found := self._judge(s, t))), None)

    def _concerned(self, rule: SpacingRule, *, swap: bool) -> bool:
        one, other = (self._second, self._first) if swap else (self._first, self._second)
        return bool(one.medicine and other.medicine and concerns(rule, one.medicine, other.medicine))

    def _own_matter(self, rule: SpacingRule, *, swap: bool) -> bool:
        """A rule that keeps one medicine from all others is that medicine's: where it stays and breaks it today, nobody moves for it."""
        one, other = (self._second, self._first) if swap else (self._first, self._second)
        if rule.other or one.free:
            return False
        return any(self._too_close(rule, s, t, one, other) for s in one.options[0] for t in other.options[0])

    def _judge(self, s: DosingTime, t: DosingTime) -> Finding | None:
        if (s.name, t.name) not in self._known:
            self._known[s.name, t.name] = next(self._breaks(s, t), None)
        return self._known[s.name, t.name]

    def _breaks(self, s: DosingTime, t: DosingTime) -> Iterator[Finding]:
        yield from self._too_close_by(self._rules, s, t, "times.apart")
        relations = {self._first.relation, self._second.relation}
        if relations & _ON_FOOD and relations & _OFF_FOOD and self._meet(s, t) and not self._meet_today():
            yield self._note("times.food", s, t, swap=self._first.relation in _ON_FOOD)

    def _too_close_by(self, rules: Iterable[tuple[SpacingRule, bool]], s: DosingTime, t: DosingTime, code: str) -> Iterator[Finding]:
        for rule, swap in rules:
            one, other, here, there = (self._second, self._first, t, s) if swap else (self._first, self._second, s, t)
            if self._too_close(rule, here, there, one, other):
                cited: dict[str, Fact] = {"rule": rule.id, "reason": rule.reason, "source": rule.source, "dated": rule.dated}
                yield self._note(code, here, there, swap=swap, **cited)

    def _meet(self, s: DosingTime, t: DosingTime) -> bool:
        return s == t and not self._first.days_at(s).isdisjoint(self._second.days_at(t))

    def _meet_today(self) -> bool:
        """What is apart stays apart; what a timetable puts together at one meal's dosing time is the plan's note, and no proposal's."""
        return any(self._meet(s, t) for s in self._first.options[0] for t in self._second.options[0])

    @staticmethod
    def _too_close(rule: SpacingRule, here: DosingTime, there: DosingTime, one: Candidate, other: Candidate) -> bool:
        """Whether some dose of `one` at that time is too close to one of `other`: on the same day, or on days around it."""
        reach = max(rule.before, rule.after) // _DAY + 1
        ones, others = one.days_at(here), other.days_at(there)
        for apart in range(-reach, reach + 1):
            minutes = apart * _DAY + minute_of(there) - minute_of(here)
            if -rule.after < minutes < rule.before and any(day + apart in others for day in ones):
                return True
        return False

    def _note(self, code: str, here: DosingTime, there: DosingTime, /, *, swap: bool, **facts: Fact) -> Finding:
        one, other = (self._second, self._first) if swap else (self._first, self._second)
        named: dict[str, Fact] = {"medicine": _label(one), "other": _label(other), "time": here.time, "other_time": there.time}
        return Finding(code, Severity.NOTE, {"order": one.order.id}, {**named, "other_order": other.order.id, **facts})


def _label(candidate: Candidate) -> str:
    return candidate.medicine.label if candidate.medicine else candidate.order.medicine
