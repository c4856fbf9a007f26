"""The pharmacy's printers, with what was measured of each."""

from typing import ClassVar

from django.db import models

__all__ = ["PrinterRow"]


class PrinterRow(models.Model):
    """One printer by its name in the pharmacy. Measures are millimetres on paper of `width` by `height`, as exact decimal text."""

    name = models.CharField(max_length=60, primary_key=True)
    dpi = models.PositiveIntegerField()
    width = models.CharField(max_length=20)
    height = models.CharField(max_length=20)
    left = models.CharField(max_length=20)
    top = models.CharField(max_length=20)
    across = models.CharField(max_length=20)
    down = models.CharField(max_length=20)
    measured_by = models.CharField(max_length=120)
    measured_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar = [models.CheckConstraint(condition=models.Q(dpi__gte=150, dpi__lte=2400), name="printer_dpi_believable")]

    def __str__(self) -> str:
        return self.name
