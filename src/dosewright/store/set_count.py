"""How many sets a person ever had."""

from dosewright.core.units.ids import PersonId
from dosewright.store.models import CardSet

__all__ = ["count_sets"]


def count_sets(person: PersonId) -> int:
    """All of them, withdrawn ones too."""
    return CardSet.objects.filter(person_id=person).count()
