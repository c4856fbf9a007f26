"""The pharmacy's own clock on the wall: the day and the clock time of a moment."""

from datetime import date, datetime, time

from django.utils import timezone

from dosewright.core.units.dosing_time import Moment

__all__ = ["day_begins", "wall_day", "wall_moment"]


def wall_day(at: datetime) -> date:
    """The day there."""
    return wall_moment(at).day


def wall_moment(at: datetime) -> Moment:
    """The day and the clock time there, to the minute."""
    local = timezone.localtime(at)
    return Moment(local.date(), local.time().replace(second=0, microsecond=0))


def day_begins(day: date) -> datetime:
    """The moment at which the day begins there."""
    return timezone.make_aware(datetime.combine(day, time()))
