"""How days are written on screen, for views and templates alike."""

from datetime import date

from dosewright.core.paper.dates import short_day

__all__ = ["day_in_full", "day_of_year", "short_day"]


def day_in_full(day: date) -> str:
    """ "Mon 2 Mar 2026"."""
    return f"{short_day(day)} {day.year}"


def day_of_year(day: date) -> str:
    """ "4 Feb 1939", where the day of the week tells nothing."""
    return f"{day.day} {day:%b %Y}"
