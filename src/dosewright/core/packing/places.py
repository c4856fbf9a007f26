"""Where each medicine lay in a set, for the next cycle to keep to: a person's plan in, columns by dosing time and medicine out."""

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.packing.request import Places
from dosewright.core.units.ids import MedicineCode, SlotName

__all__ = ["places_of"]


def places_of(planned: PersonPlan) -> Places:
    """For each dosing time and medicine the column among that dosing time's columns, from 1, as it lay last.

    A medicine split over several columns has the first. Columns are counted in the week, not in what is left of it on one day.
    """
    found: dict[tuple[SlotName, MedicineCode], int] = {}
    for card in planned.scheduled:
        columns = {column.column: column for column in card.columns}
        last = {(c.slot, content.medicine): columns[c.column].part for c in reversed(card.cavities) for content in c.contents}
        found |= last
    return found
