"""Errors caught before release, and what changed in the work meanwhile."""

from typing import ClassVar

from django.db import models

from dosewright.core.custody.near_miss import Cause, Harm, NoticedAt, Origin

__all__ = ["ChartNote", "NearMiss"]


class NearMiss(models.Model):
    """An error caught before release: what, where noticed, how it came to be noted. About work, not about blame.

    `card` and `stage` are "" where none is known. `found_by` is "" where whoever noted it did not want their name beside it; the ledger's
    `entry` has everybody's.
    """

    at = models.DateTimeField(db_index=True)
    card = models.CharField(max_length=40, blank=True, db_index=True)
    stage = models.CharField(max_length=20, blank=True)
    kind = models.CharField(max_length=40)
    found_by = models.CharField(max_length=120, blank=True)
    note = models.TextField(blank=True)
    entry = models.BigIntegerField()
    noticed = models.CharField(max_length=20, default=NoticedAt.CHECK.value)
    origin = models.CharField(max_length=20, default=Origin.CHECK.value)
    cause = models.CharField(max_length=20, blank=True, default="")
    harm = models.CharField(max_length=20, blank=True, default="")

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(noticed__in=[one.value for one in NoticedAt]), name="near_miss_noticed_known"),
            models.CheckConstraint(condition=models.Q(origin__in=[one.value for one in Origin]), name="near_miss_origin_known"),
            models.CheckConstraint(condition=models.Q(cause__in=[one.value for one in Cause]), name="near_miss_cause_known"),
            models.CheckConstraint(condition=models.Q(harm__in=[one.value for one in Harm]), name="near_miss_harm_known"),
        ]

    def __str__(self) -> str:
        return f"{self.card} {self.kind}"


class ChartNote(models.Model):
    """What changed on a day, as the charts say it beside their points. `turn`: what follows for the limits. It may be taken back."""

    day = models.DateField(db_index=True)
    text = models.CharField(max_length=200)
    turn = models.CharField(max_length=20)
    said_by = models.CharField(max_length=120)
    said_at = models.DateTimeField()
    taken_back = models.BooleanField(default=False)

    class Meta:
        constraints: ClassVar = [models.CheckConstraint(condition=~models.Q(text=""), name="chart_note_says_something")]

    def __str__(self) -> str:
        return f"{self.day} {self.text}"
