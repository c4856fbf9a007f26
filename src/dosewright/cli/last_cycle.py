"""What the last cycle's plan.json says of each person: where each medicine lay, and which products they were."""

from collections.abc import Mapping
from dataclasses import dataclass

from dosewright.cli.files import Unreadable, read_text
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.plan_json import PlanError, parse_plan
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.places import places_of
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.packing.request import Places
from dosewright.core.units.ids import MedicineCode, PersonId

__all__ = ["LastCycle", "read_last_cycle"]


@dataclass(frozen=True, slots=True)
class LastCycle:
    """By the plan's own ids: each person's places, and the products that were in the cards or alongside, as the medicines file has them."""

    places: Mapping[PersonId, Places]
    products: Mapping[PersonId, tuple[Medicine, ...]]


def read_last_cycle(path: str | None, medicines: Mapping[MedicineCode, Medicine]) -> LastCycle:
    """What the last cycle's plan says; nothing without a plan. Raises Unreadable."""
    if path is None:
        return LastCycle({}, {})
    try:
        plan = parse_plan(read_text(path), medicines)
    except JsonError as error:
        raise Unreadable(f"{path}, {error}") from error
    except PlanError as error:
        raise Unreadable(f"{path}: {error}") from error
    places = {person.person: places_of(person) for person in plan.people}
    return LastCycle(places, {person.person: _products(person, medicines) for person in plan.people})


def _products(person: PersonPlan, medicines: Mapping[MedicineCode, Medicine]) -> tuple[Medicine, ...]:
    packed = {content.medicine for card in person.cards for cavity in card.cavities for content in cavity.contents}
    codes = packed | {line.medicine for line in person.alongside}
    return tuple(medicines[code] for code in sorted(codes) if code in medicines)
