"""Where each medicine lay in the last cycle: that cycle's plan.json in, each person's places out."""

from collections.abc import Mapping

from dosewright.cli.files import Unreadable, read_text
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.plan_json import PlanError, parse_plan
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.places import places_of
from dosewright.core.packing.request import Places
from dosewright.core.units.ids import MedicineCode, PersonId

__all__ = ["read_places"]


def read_places(path: str | None, medicines: Mapping[MedicineCode, Medicine]) -> dict[PersonId, Places]:
    """Each person's places, by the plan's own ids; none without a plan. Raises Unreadable."""
    if path is None:
        return {}
    try:
        plan = parse_plan(read_text(path), medicines)
    except JsonError as error:
        raise Unreadable(f"{path}, {error}") from error
    except PlanError as error:
        raise Unreadable(f"{path}: {error}") from error
    return {person.person: places_of(person) for person in plan.people}
