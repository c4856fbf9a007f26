"""Days as paper says them: weekday and month in words, so that no country reads 3/2 as another day."""

from datetime import date, datetime, time

__all__ = ["clock", "long_day", "moment_words", "month_day", "short_day", "span_of_days", "weekday", "year_day"]

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")


def weekday(day: date) -> str:
    """ "Monday"."""
    return _WEEKDAYS[day.weekday()]


def month_day(day: date) -> str:
    """ "Monday 2 March"."""
    return f"{weekday(day)} {day.day} {_MONTHS[day.month - 1]}"


def long_day(day: date) -> str:
    """ "Monday 2 March 2026"."""
    return f"{month_day(day)} {day.year}"


def year_day(day: date) -> str:
    """ "2 March 2026"."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def short_day(day: date) -> str:
    """ "Mon 2 Mar": for narrow tables whose heading names the year."""
    return f"{weekday(day)[:3]} {day.day} {_MONTHS[day.month - 1][:3]}"


def span_of_days(first: date, last: date) -> str:
    """ "Monday 2 March to Sunday 29 March 2026"; both years where they differ."""
    if first == last:
        return long_day(first)
    start = month_day(first) if first.year == last.year else long_day(first)
    return f"{start} to {long_day(last)}"


def clock(at: time) -> str:
    """ "08:00"."""
    return f"{at.hour:02d}:{at.minute:02d}"


def moment_words(at: datetime) -> str:
    """ "2 March 2026, 11:30": when a sheet was made, by the clock on the wall."""
    return f"{year_day(at.date())}, {clock(at.time())}"
