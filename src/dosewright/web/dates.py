"""How days are written on screen, for views and templates alike."""

from datetime import date

__all__ = ["day_in_full", "day_of_year", "short_day"]


def day_in_full(day: date) -> str:
    """ "Mon 2 Mar 2026"."""
    return f"{day:%a} {day.day} {day:%b %Y}"


def short_day(day: date) -> str:
    """ "Mon 2 Mar", where the year stands near by."""
    return f"{day:%a} {day.day} {day:%b}"


def day_of_year(day: date) -> str:
    """ "4 Feb 1939", where the day of the week tells nothing."""
    return f"{day.day} {day:%b %Y}"
