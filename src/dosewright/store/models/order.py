"""Orders as received, as read, and as confirmed."""

from typing import ClassVar

from django.db import models

from dosewright.store.models.medicine import MedicineRow
from dosewright.store.models.person import PersonRow
from dosewright.store.models.wording import WordingRow

__all__ = ["OrderFile", "OrderRow"]


class OrderFile(models.Model):
    """A file of orders, byte for byte as it came, the language it was read in, and the findings about it as a whole."""

    name = models.CharField(max_length=300)
    lang = models.CharField(max_length=10, default="en")
    kind = models.CharField(max_length=10)  # "fhir" | "csv" | "form"
    content = models.BinaryField()
    sha256 = models.CharField(max_length=64, db_index=True)
    received_at = models.DateTimeField()
    received_by = models.CharField(max_length=120)
    findings = models.TextField(default="[]")

    def __str__(self) -> str:
        return self.name


class OrderRow(models.Model):
    """One order. `text` is as received and never changes. `status` says what the reader made of it: read, decide or refuse.

    `value` is the core's Order as canonical JSON (with the structure that was confirmed, once it is). `revision` counts the times an
    order of the same `source` id came with other words. `standing`: waiting for a pharmacist, confirmed, rejected. `since`, `until`
    and `anchor` live in `value`; `ends` repeats the day of `until` to be searched.
    """

    id = models.CharField(max_length=320, primary_key=True)
    source = models.CharField(max_length=300, db_index=True)
    revision = models.PositiveIntegerField(default=1)
    file = models.ForeignKey(OrderFile, null=True, on_delete=models.PROTECT, related_name="orders")
    person = models.ForeignKey(PersonRow, on_delete=models.PROTECT, related_name="orders")
    medicine = models.ForeignKey(MedicineRow, on_delete=models.PROTECT)
    text = models.TextField(blank=True)
    status = models.CharField(max_length=10)
    received = models.TextField()  # canonical JSON: the order as received, its reading with questions and choices, its findings
    value = models.TextField()
    standing = models.CharField(max_length=12, default="waiting")
    settled_by = models.CharField(max_length=120, blank=True)  # printed name of who confirmed or rejected
    settled_by_id = models.CharField(max_length=60, blank=True)
    settled_at = models.DateTimeField(null=True)
    choice = models.IntegerField(null=True)  # which of the laid-out readings was chosen
    wording = models.ForeignKey(WordingRow, null=True, on_delete=models.PROTECT, related_name="orders")  # the remembered one it was read by
    reason = models.TextField(blank=True)
    ends = models.DateField(null=True, db_index=True)
    replaced_by = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="replaces")

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(status__in=["read", "decide", "refuse"]), name="order_status_known"),
            models.CheckConstraint(
                condition=models.Q(standing="waiting", settled_by_id="", settled_by="", settled_at__isnull=True)
                | (
                    models.Q(standing__in=["confirmed", "rejected"], settled_at__isnull=False)
                    & ~models.Q(settled_by_id="")
                    & ~models.Q(settled_by="")
                ),
                name="order_who_and_when_go_together",
            ),
            models.UniqueConstraint(fields=["source", "revision"], name="order_revision_once"),
        ]

    def __str__(self) -> str:
        return self.id
