"""Wordings whose meaning a pharmacist confirmed once, until somebody revokes it."""

from typing import ClassVar

from django.db import models

__all__ = ["WordingRow"]


class WordingRow(models.Model):
    """One wording of this pharmacy, or of one home of it (`home` is "" for the whole pharmacy).

    `value` is the core's Wording as canonical JSON; the fields of its key stand beside it to be found. `order`: the order at which it was
    confirmed. It is never changed but to be revoked, with who, when and why; the same words may then be remembered anew.
    """

    text = models.TextField()
    lang = models.CharField(max_length=10)
    country = models.CharField(max_length=2, blank=True)
    form = models.CharField(max_length=200)
    unit = models.CharField(max_length=60)
    home = models.CharField(max_length=200, blank=True)
    value = models.TextField()
    order = models.CharField(max_length=320)
    confirmed_by = models.CharField(max_length=120)
    confirmed_by_id = models.CharField(max_length=60)
    confirmed_at = models.DateTimeField()
    reason = models.TextField()
    revoked_by = models.CharField(max_length=120, blank=True)
    revoked_by_id = models.CharField(max_length=60, blank=True)
    revoked_at = models.DateTimeField(null=True)
    revoked_because = models.TextField(blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["text", "lang", "country", "form", "unit", "home"],
                condition=models.Q(revoked_at__isnull=True),
                name="wording_in_force_once",
            ),
            models.CheckConstraint(
                condition=~models.Q(reason="") & ~models.Q(confirmed_by="") & ~models.Q(confirmed_by_id=""),
                name="wording_has_who_and_why",
            ),
            models.CheckConstraint(
                condition=models.Q(revoked_at__isnull=True, revoked_by="", revoked_by_id="", revoked_because="")
                | (
                    models.Q(revoked_at__isnull=False)
                    & ~models.Q(revoked_by="")
                    & ~models.Q(revoked_by_id="")
                    & ~models.Q(revoked_because="")
                ),
                name="wording_revoked_who_when_why_go_together",
            ),
        ]

    def __str__(self) -> str:
        return self.text
