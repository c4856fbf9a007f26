"""Changes of a person's orders that cards had, or have, to be put right for."""

from typing import ClassVar

from django.db import models

from dosewright.core.custody.changing import Cause, ChangeStanding
from dosewright.store.models.person import PersonRow

__all__ = ["ChangeRow", "ReworkRates"]

_OPEN = [standing.value for standing in (ChangeStanding.WAITING, ChangeStanding.DECIDED, ChangeStanding.IN_WORK)]


class ChangeRow(models.Model):
    """One change from when it is taken until it is done. `before` are the person's orders as they were, `tasks` what was decided to be
    done,
    `held` what lay in the cards when it was decided, by medicine and lot: canonical JSON. `entry` is the ledger's number of that decision,
    from which movements count. `first`: the first dosing time that it affects, by which changes are urgent.
    """

    person = models.ForeignKey(PersonRow, on_delete=models.PROTECT, related_name="changes")
    cause = models.CharField(max_length=20)
    standing = models.CharField(max_length=12, default=ChangeStanding.WAITING.value, db_index=True)
    taken_at = models.DateTimeField()
    taken_by = models.CharField(max_length=120)
    first_day = models.DateField(null=True)
    first_time = models.TimeField(null=True)
    before = models.TextField()
    tasks = models.TextField(default="[]")
    held = models.TextField(default="[]")
    interims = models.TextField(default="[]")
    reason = models.TextField(blank=True)
    entry = models.BigIntegerField(default=0)
    decided_at = models.DateTimeField(null=True)
    decided_by = models.CharField(max_length=120, blank=True)
    done_at = models.DateTimeField(null=True)
    done_by = models.CharField(max_length=120, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(standing__in=[one.value for one in ChangeStanding]), name="change_standing_known"),
            models.CheckConstraint(condition=models.Q(cause__in=[one.value for one in Cause]), name="change_cause_known"),
            models.UniqueConstraint(fields=["person"], condition=models.Q(standing__in=_OPEN), name="one_open_change_a_person"),
            models.CheckConstraint(
                condition=models.Q(decided_at__isnull=True, decided_by="")
                | (models.Q(decided_at__isnull=False) & ~models.Q(decided_by="")),
                name="change_decided_who_and_when",
            ),
            models.CheckConstraint(
                condition=models.Q(done_at__isnull=True, done_by="") | (models.Q(done_at__isnull=False) & ~models.Q(done_by="")),
                name="change_done_who_and_when",
            ),
        ]

    def __str__(self) -> str:
        return f"change {self.pk}"


class ReworkRates(models.Model):
    """What it costs to put a card right, as the pharmacy has it: a text like the one that ships. The latest counts."""

    text = models.TextField()
    changed_at = models.DateTimeField()
    changed_by = models.CharField(max_length=120)

    def __str__(self) -> str:
        return f"rates {self.pk}"
