"""Doses closer in time than a rule allows: a person's counted doses and the spacing rules in, findings out. Nothing is ever moved."""

from collections.abc import Iterable, Sequence
from datetime import date, time
from functools import lru_cache

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.spacing import SpacingRule, breaches, concerns, named
from dosewright.core.packing.placing import UnitSeries
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["check_spacing"]

_Times = dict[str, set[tuple[date, time]]]


def check_spacing(person: Person, series: Sequence[UnitSeries], request: PlanRequest) -> tuple[Finding, ...]:
    """For each rule and pair of medicines the first two doses that are too close, in the order of the rules."""
    medicines = {one.medicine.code: one.medicine for one in series}
    firsts = tuple([rule.one for rule in request.spacings])
    ruled = [(one, places) for one in medicines.values() if (places := _ruled_by(firsts, one))]
    if not ruled:
        return ()
    ones = [(rule, one) for place, rule in enumerate(request.spacings) for one, places in ruled if place in places]
    pairs = [(rule, one, other) for rule, one in ones for other in medicines.values() if concerns(rule, one, other)]
    taken: _Times = {medicine.code: set() for _, *both in pairs for medicine in both}
    for held in series if taken else ():
        if held.medicine.code in taken:
            taken[held.medicine.code].update((day, held.time) for day in held.days)
    return tuple(found for rule, one, other in pairs for found in _check_pair(rule, one, other, taken, person))


@lru_cache(maxsize=16384)
def _ruled_by(firsts: tuple[tuple[str, ...], ...], medicine: Medicine) -> frozenset[int]:
    """The places of the rules whose first names the medicine. Of most medicines no rule speaks: asked once, not rule by rule."""
    return frozenset(place for place, names in enumerate(firsts) if named(names, medicine))


def _check_pair(rule: SpacingRule, one: Medicine, other: Medicine, taken: _Times, person: Person) -> Iterable[Finding]:
    for (day, clock), (_, other_clock) in breaches(rule, sorted(taken[one.code]), sorted(taken[other.code])):
        cited: dict[str, Fact] = {"rule": rule.id, "reason": rule.reason, "source": rule.source, "dated": rule.dated}
        times: dict[str, Fact] = {"time": clock, "other_time": other_clock, "before": rule.before, "after": rule.after}
        facts = {"name": person.name, "medicine": one.label, "other": other.label, **times, **cited}
        yield Finding("spacing", Severity.DECIDE, {"person": person.id, "date": day}, facts)
        return
