"""Which medicines the cards hold whose life is not over: rows in, for each medicine how many cards out."""

from collections import Counter

from dosewright.core.custody.stage import OVER
from dosewright.core.packing.plan_values import Card
from dosewright.core.units.ids import MedicineCode
from dosewright.store.models import CardRow
from dosewright.store.value_json import parse_value

__all__ = ["medicines_in_open_cards"]


def medicines_in_open_cards() -> dict[MedicineCode, int]:
    """By what the plans want of the cards. Cards that are returned, withdrawn or destroyed do not count."""
    counts: Counter[MedicineCode] = Counter()
    rows = CardRow.objects.exclude(stage__in=[stage.value for stage in OVER]).values_list("value", flat=True)
    for value in rows.iterator(chunk_size=500):
        card = parse_value(Card, value)
        counts.update({content.medicine for cavity in card.cavities for content in cavity.contents})
    return dict(counts)
