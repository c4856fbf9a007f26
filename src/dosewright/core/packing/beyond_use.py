"""The last day on which a card's contents may be taken: day of packing, known expiries and limits in, one day out. Holds R5.

Source: USP patient med pak text (not later than the shortest date of any product, and 60 days); other places by their profile.
"""

import re
from calendar import monthrange
from collections.abc import Iterable
from datetime import date, timedelta

__all__ = ["beyond_use", "last_usable_day"]

_MONTH = re.compile(r"(?P<month>\d{2})/(?P<year>\d{4})|(?P<year2>\d{4})-(?P<month2>\d{2})")


def beyond_use(packed: date, expiries: Iterable[date], longest: timedelta) -> date:
    """The earliest of the expiries and of packing day plus the longest time allowed; that day itself is still allowed."""
    return min((packed + longest, *expiries))


def last_usable_day(printed: str) -> date:
    """The last day that an expiry as printed allows: "04/2026" and "2026-04" mean the month's last day. Raises ValueError."""
    if found := _MONTH.fullmatch(printed.strip()):
        year, month = int(found["year"] or found["year2"]), int(found["month"] or found["month2"])
        if not 1 <= month <= 12:
            raise ValueError(f"no such month: {printed!r}")
        return date(year, month, monthrange(year, month)[1])
    return date.fromisoformat(printed.strip())
