"""Stock by lot, and every movement of it. Amounts are exact text ("10.5", "1/3"): no column type of a database holds a third."""

from typing import ClassVar

from django.db import models

from dosewright.core.supply.movement import MovementKind
from dosewright.store.models.medicine import MedicineRow

__all__ = ["StockLot", "StockMovement"]


class StockLot(models.Model):
    """One lot of one medicine. `in_stock` repeats what its movements sum to, and is the row that stations lock.

    `recalled`: why nothing of it is used; "" where it may be."""

    medicine = models.ForeignKey(MedicineRow, on_delete=models.PROTECT, related_name="lots")
    lot = models.CharField(max_length=20, db_index=True)  # GS1 AI (10): at most 20 characters
    expiry = models.DateField()
    in_stock = models.CharField(max_length=40, default="0")
    recalled = models.TextField(default="", blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["medicine", "lot"], name="lot_once_a_medicine")]

    def __str__(self) -> str:
        return self.lot


class StockMovement(models.Model):
    """So much of a lot from one place to another; which, the kind says. `entry` is the ledger's sequence number."""

    lot = models.ForeignKey(StockLot, on_delete=models.PROTECT, related_name="movements")
    kind = models.CharField(max_length=20)
    amount = models.CharField(max_length=40)
    card = models.CharField(max_length=40, blank=True, db_index=True)
    entry = models.BigIntegerField()

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(kind__in=[kind.value for kind in MovementKind]), name="movement_kind_known")
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.amount}"
