"""Homes, timetables and the people who live with the cards."""

from django.db import models

__all__ = ["HomeRow", "PersonRow", "TimetableRow"]


class TimetableRow(models.Model):
    """A timetable as canonical JSON of the core's value, by name."""

    name = models.CharField(max_length=60, primary_key=True)
    value = models.TextField()

    def __str__(self) -> str:
        return self.name


class HomeRow(models.Model):
    """A care home. Its people follow its timetable unless they have one of their own."""

    id = models.CharField(max_length=200, primary_key=True)
    name = models.CharField(max_length=200)
    address = models.TextField(blank=True)
    phone = models.CharField(max_length=60, blank=True)
    timetable = models.ForeignKey(TimetableRow, null=True, on_delete=models.PROTECT)

    def __str__(self) -> str:
        return self.name


class PersonRow(models.Model):
    """`name` is printed whole. `home` is empty for people who live at home."""

    id = models.CharField(max_length=300, primary_key=True)  # a FHIR fullUrl may stand here
    name = models.CharField(max_length=1000)
    born = models.DateField(null=True)
    home = models.ForeignKey(HomeRow, null=True, on_delete=models.PROTECT)
    room = models.CharField(max_length=200, blank=True)
    address = models.TextField(blank=True)
    timetable = models.ForeignKey(TimetableRow, null=True, on_delete=models.PROTECT)

    def __str__(self) -> str:
        return self.id
