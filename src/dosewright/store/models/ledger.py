"""The ledger's rows. They are added, never changed or deleted: triggers in the database refuse both (see `store.guards`)."""

from typing import ClassVar

from django.db import models
from django.utils import timezone

__all__ = ["Attempt", "LedgerEntry", "LedgerHead"]


class LedgerEntry(models.Model):
    """One event. Names are copied, not pointed at. `previous` is unique: no two entries can follow the same one."""

    sequence = models.BigIntegerField(primary_key=True)
    at = models.DateTimeField()
    who_id = models.CharField(max_length=60)
    who_name = models.CharField(max_length=120)
    who_role = models.CharField(max_length=20)
    station = models.CharField(max_length=60)
    event = models.CharField(max_length=60, db_index=True)
    subject_kind = models.CharField(max_length=20)
    subject_id = models.CharField(max_length=340)
    body = models.TextField()
    previous = models.CharField(max_length=64, unique=True)
    hash = models.CharField(max_length=64, unique=True)

    class Meta:
        indexes: ClassVar = [models.Index(fields=["subject_kind", "subject_id", "sequence"], name="ledger_by_subject")]

    def __str__(self) -> str:
        return f"{self.sequence} {self.event}"


class LedgerHead(models.Model):
    """One row: where the ledger ends. Whoever appends holds it until the transaction ends, so that the order is one."""

    sequence = models.BigIntegerField(default=0)
    hash = models.CharField(max_length=64)

    class Meta:
        constraints: ClassVar = [models.CheckConstraint(condition=models.Q(id=1), name="one_ledger")]

    def __str__(self) -> str:
        return f"{self.sequence}"


class Attempt(models.Model):
    """A form's own mark and what its first submit led to: the second submit gets the same answer, and does nothing. It is
    forgotten after a while (`store.tidying`)."""

    token = models.CharField(max_length=80, primary_key=True)
    deed = models.CharField(max_length=60)
    by = models.CharField(max_length=60)
    outcome = models.TextField()
    at = models.DateTimeField(default=timezone.now, db_index=True)  # by the occasion; the default is for rows of older backups

    def __str__(self) -> str:
        return self.token
