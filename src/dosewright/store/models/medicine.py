"""The catalogue: what each product is, and the codes on its packs."""

from django.db import models

__all__ = ["MedicineCodeRow", "MedicineRow"]


class MedicineRow(models.Model):
    """`value` is the core's Medicine as canonical JSON; `name` and `strength` stand beside it to be searched."""

    code = models.CharField(max_length=60, primary_key=True)
    name = models.CharField(max_length=200, db_index=True)
    strength = models.CharField(max_length=100, blank=True)
    value = models.TextField()

    def __str__(self) -> str:
        return self.code


class MedicineCodeRow(models.Model):
    """One product code names one medicine; a medicine may come in several packs. A trade item number of 14 digits, or a national code that
    has none, with its word in front ("DIN 02241234")."""

    gtin = models.CharField(max_length=24, primary_key=True)
    medicine = models.ForeignKey(MedicineRow, on_delete=models.CASCADE, related_name="codes")

    def __str__(self) -> str:
        return self.gtin
