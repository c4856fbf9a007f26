"""What a set still needs of a medicine that was not in stock when it was filled."""

from typing import ClassVar

from django.db import models

from dosewright.store.models.card import CardSet
from dosewright.store.models.medicine import MedicineRow

__all__ = ["OwingRow"]


class OwingRow(models.Model):
    """`amount` is exact text, in whole units. Open while `settled_at` is empty; at most one is open for a set and a medicine."""

    card_set = models.ForeignKey(CardSet, on_delete=models.PROTECT, related_name="owings")
    medicine = models.ForeignKey(MedicineRow, on_delete=models.PROTECT)
    amount = models.CharField(max_length=40)
    since = models.DateTimeField()
    by = models.CharField(max_length=120)
    settled_at = models.DateTimeField(null=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["card_set", "medicine"], condition=models.Q(settled_at__isnull=True), name="one_open_owing_a_set_and_medicine"
            )
        ]

    def __str__(self) -> str:
        return f"{self.amount} {self.medicine_id}"
