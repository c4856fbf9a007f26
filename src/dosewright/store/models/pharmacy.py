"""The one pharmacy of this database: its address, and the rules it works by as texts that it may edit."""

from typing import ClassVar

from django.db import models

__all__ = ["Pharmacy", "RuleBook"]


class RuleBook(models.Model):
    """The rules as they stood: TOML texts, kept once for each wording of them, so that a set can be drawn again as it was planned."""

    sha256 = models.CharField(max_length=64, primary_key=True)
    profile = models.TextField()
    card_format = models.TextField()
    forms = models.TextField()
    products = models.TextField()
    pairs = models.TextField()
    own = models.TextField(blank=True, default="")  # the pharmacy's own rules, of every kind

    def __str__(self) -> str:
        return self.sha256[:12]


class Pharmacy(models.Model):
    """One row. `rules` begins as the files that ship; what stands there is what counts. `salt` makes card numbers this pharmacy's own."""

    name = models.CharField(max_length=200)
    address = models.TextField()
    phone = models.CharField(max_length=60)
    registration = models.CharField(max_length=60, blank=True)
    country = models.CharField(max_length=2)  # ISO 3166-1 alpha-2: settles how directions are read
    rules = models.ForeignKey(RuleBook, on_delete=models.PROTECT)
    timetable = models.ForeignKey("store.TimetableRow", on_delete=models.PROTECT)
    salt = models.CharField(max_length=80)

    class Meta:
        constraints: ClassVar = [models.CheckConstraint(condition=models.Q(id=1), name="one_database_one_pharmacy")]

    def __str__(self) -> str:
        return self.name
