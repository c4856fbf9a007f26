"""The one pharmacy of this database: its address, and the rules it works by as texts that it may edit."""

from typing import ClassVar

from django.db import models

__all__ = ["Pharmacy"]


class Pharmacy(models.Model):
    """One row. The three TOML texts begin as the files that ship; what stands here is what counts."""

    name = models.CharField(max_length=200)
    address = models.TextField()
    phone = models.CharField(max_length=60)
    registration = models.CharField(max_length=60, blank=True)
    country = models.CharField(max_length=2)  # ISO 3166-1 alpha-2: settles how directions are read
    profile = models.TextField()
    card_format = models.TextField()
    suitability = models.TextField()

    class Meta:
        constraints: ClassVar = [models.CheckConstraint(condition=models.Q(id=1), name="one_database_one_pharmacy")]

    def __str__(self) -> str:
        return self.name
