"""Tokens by which another program acts in somebody's name, and the keys of what it has sent."""

from typing import ClassVar

from django.db import models
from django.utils import timezone

from dosewright.store.models.account import Account
from dosewright.store.models.person import HomeRow

__all__ = ["ApiToken", "RequestKey"]


class ApiToken(models.Model):
    """Of the token only the SHA-256 is kept. `abilities` is canonical JSON. Never changed but to be revoked, with who and when."""

    name = models.CharField(max_length=40)
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="tokens")
    abilities = models.TextField()
    home = models.ForeignKey(HomeRow, null=True, on_delete=models.PROTECT)
    hash = models.CharField(max_length=64, unique=True)
    until = models.DateField()
    made_by = models.CharField(max_length=120)
    made_by_id = models.CharField(max_length=60)
    made_at = models.DateTimeField()
    revoked_by = models.CharField(max_length=120, blank=True)
    revoked_by_id = models.CharField(max_length=60, blank=True)
    revoked_at = models.DateTimeField(null=True)
    maker = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="made")  # the token by which a program made it

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(revoked_at__isnull=True, revoked_by="", revoked_by_id="")
                | (models.Q(revoked_at__isnull=False) & ~models.Q(revoked_by="") & ~models.Q(revoked_by_id="")),
                name="token_revoked_who_and_when_go_together",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class RequestKey(models.Model):
    """An idempotency key, hashed with whose it is, and the keyed hash (HMAC) of the request that it came with first. It is
    forgotten after a while (`store.tidying`)."""

    key = models.CharField(max_length=64, primary_key=True)
    fingerprint = models.CharField(max_length=64)
    at = models.DateTimeField(default=timezone.now, db_index=True)  # by the bench's clock; the default is for rows of older backups

    def __str__(self) -> str:
        return self.key
