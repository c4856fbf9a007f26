"""Everybody at Tern Street's bench, and the clock on its wall. Needs Django set up.

Every action is on an occasion: who, when, where. The clock is the demonstration's own and moves a little with each action, so that the
ledger reads like a week's work and is the same every time.
"""

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta

from dosewright.actions.outcome import Outcome
from dosewright.config.demo.staff import PASSWORD, STAFF
from dosewright.core.custody.event import Actor, Occasion
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import StationId
from dosewright.devices.clock import FixedClock
from dosewright.store.accounts import actor_of
from dosewright.store.models import Account

__all__ = ["Bench", "must"]

_BETWEEN = timedelta(seconds=40)  # from one action to the next


class Bench:
    """Who works here, by username, and what time it is."""

    def __init__(self, opened: date) -> None:
        self._clock = FixedClock(datetime.combine(opened, time(8, 30), tzinfo=UTC))
        self._people: dict[str, Actor] = {}

    def sign_everybody_up(self) -> None:
        """An account for each of the staff."""
        for member in STAFF:
            account = Account.objects.create_account(
                member.username, PASSWORD, name=member.name, role=member.role, home=member.home or None
            )
            self._people[member.username] = actor_of(account)

    def on(self, username: str, station: str = "bench 1") -> Occasion:
        """The next moment, in somebody's hands."""
        self._clock.advance(_BETWEEN)
        return Occasion(self._people[username], self._clock.now(), StationId(station))

    def begin(self, day: date) -> None:
        """The next working day, at half past eight. Raises ValueError where that is not later."""
        morning = datetime.combine(day, time(8, 30), tzinfo=UTC)
        if morning <= self._clock.now():
            raise ValueError(f"{day} has begun already")
        self._clock = FixedClock(morning)


def must(outcome: Outcome) -> Outcome:
    """What the demonstration cannot do without was done. Raises RuntimeError with the reasons, in sentences."""
    if not outcome.done:
        raise RuntimeError(_sentences(outcome.findings))
    return outcome


def _sentences(findings: Iterable[Finding]) -> str:
    return " ".join(say(finding) for finding in findings) or "refused without a reason"
