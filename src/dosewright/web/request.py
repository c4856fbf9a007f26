"""A request as the bench's views see it: config's middleware has put the clock, the station and the actor on it."""

import secrets
from datetime import date, datetime
from typing import TYPE_CHECKING

from django.http import HttpRequest
from django.utils import timezone

from dosewright.core.custody.event import Actor, Occasion
from dosewright.core.units.ids import StationId
from dosewright.devices.clock import Clock
from dosewright.store.calendar import wall_day

if TYPE_CHECKING:
    from django_htmx.middleware import HtmxDetails

__all__ = ["BenchRequest", "local", "new_token", "occasion", "today"]


class BenchRequest(HttpRequest):
    """`person` is None before anybody has signed in; behind the guard of `web.urls`, `actor` is that person."""

    clock: Clock
    station: StationId
    person: Actor | None
    locked: bool  # somebody was here, and the bench is locked behind them
    actor: Actor
    htmx: "HtmxDetails"


def local(moment: datetime) -> datetime:
    """The moment by the pharmacy's own clock on the wall."""
    return timezone.localtime(moment)


def today(request: BenchRequest) -> date:
    """The day by the pharmacy's own clock on the wall."""
    return wall_day(request.clock.now())


def occasion(request: BenchRequest) -> Occasion:
    """Who does it, when, where, under which form's own mark: what every action is told."""
    return Occasion(request.actor, request.clock.now(), request.station, request.POST.get("token", "")[:80])


def new_token() -> str:
    """A form's own mark: its second submit is known for one."""
    return secrets.token_urlsafe(18)
