"""Work that takes longer than somebody waits for: what was asked, how far it has come, and what came of each part."""

from typing import ClassVar

from django.db import models

__all__ = ["LongWorkRow", "WorkStepRow"]


class LongWorkRow(models.Model):
    """`kind`: plan or print. `asked` is what each part is asked with, as canonical JSON. `beat_at`: when it last moved."""

    STATES: ClassVar = ("waiting", "working", "done", "cancelled")

    kind = models.CharField(max_length=10)
    asked = models.TextField()
    by = models.ForeignKey("store.Account", on_delete=models.PROTECT)
    station = models.CharField(max_length=60)
    made_at = models.DateTimeField()
    beat_at = models.DateTimeField()
    state = models.CharField(max_length=10, default="waiting", db_index=True)
    cancel = models.BooleanField(default=False)  # somebody wants no more of it done

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(state__in=["waiting", "working", "done", "cancelled"]), name="long_work_state_known"),
            models.CheckConstraint(condition=models.Q(kind__in=["plan", "print"]), name="long_work_kind_known"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.pk}"


class WorkStepRow(models.Model):
    """One person to plan for, one set to print. `outcome` is "" until it was tried."""

    work = models.ForeignKey(LongWorkRow, on_delete=models.CASCADE, related_name="steps")
    position = models.PositiveIntegerField()
    subject = models.CharField(max_length=300)
    outcome = models.TextField(default="")

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["work", "position"], name="work_step_once")]

    def __str__(self) -> str:
        return f"{self.work_id}: {self.subject}"
