"""Where each medicine lay in a person's set before this one."""

from datetime import date

from dosewright.core.packing.places import places_of
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import Places
from dosewright.core.units.ids import PersonId
from dosewright.store.models import CardSet
from dosewright.store.value_json import parse_value

__all__ = ["load_places"]


def load_places(person: PersonId, first: date) -> Places:
    """The places in the set that began last before `first` and was not withdrawn; of two that began together the later made. Else none."""
    before = CardSet.objects.filter(person_id=person, first__lt=first, withdrawn=False)
    row = before.order_by("-first", "-id").only("plan").first()
    return places_of(parse_value(Plan, row.plan).people[0]) if row else {}
