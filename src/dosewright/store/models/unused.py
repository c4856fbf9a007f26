"""Orders of files that could not be used, until a pharmacist has settled each."""

from typing import ClassVar

from django.db import models

from dosewright.core.custody.unused import UnusedStanding
from dosewright.store.models.order import OrderFile

__all__ = ["UnusedOrderRow"]


class UnusedOrderRow(models.Model):
    """One order as it came. `person` and `source` are as the file says them, "" where it does not: nobody need be on record by that id.

    `value` is the core's UnusedOrder as canonical JSON. `standing`: waiting, or what became of it, with who, when and why.
    """

    file = models.ForeignKey(OrderFile, on_delete=models.PROTECT, related_name="unused")
    person = models.CharField(max_length=340, blank=True, db_index=True)
    source = models.CharField(max_length=340, blank=True, db_index=True)
    value = models.TextField()
    standing = models.CharField(max_length=20, default=UnusedStanding.WAITING.value, db_index=True)
    settled_by = models.CharField(max_length=120, blank=True)
    settled_by_id = models.CharField(max_length=60, blank=True)
    settled_at = models.DateTimeField(null=True)
    reason = models.TextField(blank=True)

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(standing__in=[one.value for one in UnusedStanding]), name="unused_standing_known"),
            models.CheckConstraint(
                condition=models.Q(standing="waiting", settled_by_id="", settled_at__isnull=True)
                | (~models.Q(standing="waiting") & models.Q(settled_at__isnull=False) & ~models.Q(settled_by_id="") & ~models.Q(reason="")),
                name="unused_who_when_why_go_together",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} {self.source}"
