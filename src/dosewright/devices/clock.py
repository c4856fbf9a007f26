"""The clock: the only source of the day and the moment. Everything else is told what time it is."""

from datetime import UTC, datetime, timedelta
from typing import Protocol

__all__ = ["Clock", "FixedClock", "MovedClock", "SystemClock"]


class Clock(Protocol):
    """Tells the moment, always with a zone."""

    def now(self) -> datetime: ...


class SystemClock:
    """The machine's clock, in UTC. The one place that may ask it."""

    def now(self) -> datetime:
        return datetime.now(tz=UTC)  # noqa: TID251


class MovedClock:
    """Another clock, so many days earlier or later: a demonstration lives on the days of its own story, at the visitor's time of day."""

    def __init__(self, clock: Clock, days: int) -> None:
        self._clock = clock
        self._moved = timedelta(days=days)

    def now(self) -> datetime:
        return self._clock.now() + self._moved


class FixedClock:
    """The twin: stands at a moment and moves only when told to."""

    def __init__(self, moment: datetime) -> None:
        if moment.tzinfo is None:
            raise ValueError("a moment needs a zone")
        self._moment = moment

    def now(self) -> datetime:
        return self._moment

    def advance(self, by: timedelta) -> None:
        """Move the hands, forwards or (to try a clock set back) backwards."""
        self._moment += by
