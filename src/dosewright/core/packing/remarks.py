"""What a person should know of a finished set: finished cards and counted doses in, findings out. Nothing here changes the plan."""

from collections import Counter
from collections.abc import Iterable, Sequence

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import look_alikes
from dosewright.core.packing.meals import check_meals
from dosewright.core.packing.placing import UnitSeries
from dosewright.core.packing.plan_values import Card, PackedCavity, each_contents
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.spaced import check_spacing
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode, SlotName
from dosewright.core.units.person import Person

__all__ = ["remarks_on"]


def remarks_on(person: Person, cards: Sequence[Card], series: Sequence[UnitSeries], request: PlanRequest) -> tuple[Finding, ...]:
    """Look-alikes that share a cavity, doses over several cavities, doses closer than a rule allows, and before food beside with food."""
    cavities = [cavity for card in cards for cavity in card.cavities]
    differing = tuple(each_contents(cavities))
    in_cavities = (*_look_alikes(person, differing, request), *_split_doses(person, cavities, request))
    return (*in_cavities, *check_spacing(person, series, request), *check_meals(person, differing, request))


def _look_alikes(person: Person, cavities: Iterable[PackedCavity], request: PlanRequest) -> Iterable[Finding]:
    """Of cavities that share their contents the first is enough. Source of the warning: British Medical Journal 1996;313:926, look-alike
    forms should not share an aid."""
    seen: dict[tuple[str, str, str], tuple[PackedCavity, Medicine, Medicine]] = {}
    first: dict[tuple[str, ...], PackedCavity] = {}
    for cavity in cavities:
        first.setdefault((cavity.slot, *(content.medicine for content in cavity.contents)), cavity)
    for cavity in first.values():
        held = dict.fromkeys(content.medicine for content in cavity.contents)
        for one, other in look_alikes(request.medicines[code] for code in held):
            seen.setdefault((cavity.slot, one.code, other.code), (cavity, one, other))
    for cavity, one, other in seen.values():
        where: dict[str, Fact] = {"person": person.id, "date": cavity.day, "slot": cavity.slot}
        yield Finding("look-alike", Severity.NOTE, where, {"name": person.name, "medicine": one.label, "other": other.label})


def _split_doses(person: Person, cavities: Iterable[PackedCavity], request: PlanRequest) -> Iterable[Finding]:
    """One product at one dosing time in more than one cavity: said once for each product and dosing time."""
    several = [cavity for cavity in cavities if cavity.parts > 1]
    if not _twice_over_parts(several):
        return
    held = Counter((c.day, c.slot, code) for c in several for code in dict.fromkeys(content.medicine for content in c.contents))
    said: set[tuple[SlotName, MedicineCode]] = set()
    for (day, slot, code), many in sorted(held.items()):
        if many > 1 and (slot, code) not in said:
            said.add((slot, code))
            facts: dict[str, Fact] = {"name": person.name, "medicine": request.medicines[code].label, "cavities": many}
            yield Finding("dose-split", Severity.NOTE, {"person": person.id, "date": day, "slot": slot}, facts)


def _twice_over_parts(cavities: Iterable[PackedCavity]) -> bool:
    """Whether any medicine lies in more than one part of a dosing time, on whichever days."""
    differing = {(c.slot, c.part, id(c.contents)): c for c in cavities}.values()
    held = {(c.slot, c.part, content.medicine) for c in differing for content in c.contents}
    return len({(slot, code) for slot, _, code in held}) < len(held)
