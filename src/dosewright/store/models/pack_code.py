"""What one person said a pack's code belongs to, until a second says the same."""

from typing import ClassVar

from django.db import models

from dosewright.store.models.medicine import MedicineRow

__all__ = ["TaughtCodeRow"]


class TaughtCodeRow(models.Model):
    """At most one waits for a code. `standing`: waiting, confirmed, dropped."""

    gtin = models.CharField(max_length=24, db_index=True)
    medicine = models.ForeignKey(MedicineRow, on_delete=models.PROTECT)
    by_id = models.CharField(max_length=60)
    by = models.CharField(max_length=120)
    at = models.DateTimeField()
    standing = models.CharField(max_length=12, default="waiting")

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["gtin"], condition=models.Q(standing="waiting"), name="one_waits_a_code"),
            models.CheckConstraint(condition=models.Q(standing__in=["waiting", "confirmed", "dropped"]), name="taught_code_standing_known"),
        ]

    def __str__(self) -> str:
        return self.gtin
