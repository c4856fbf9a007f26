"""A request as this room sees it: config's middleware has put the clock on it, the door the caller."""

from dataclasses import dataclass

from django.http import HttpRequest

from dosewright.core.custody.event import Actor, Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.units.ids import HomeId
from dosewright.devices.clock import Clock

__all__ = ["ApiRequest", "Caller"]


@dataclass(frozen=True, slots=True)
class Caller:
    """In whose name the program acts, by which token, what it was given, and the occasion of this request."""

    actor: Actor
    username: str
    token: str
    abilities: frozenset[Ability]
    on: Occasion

    @property
    def home(self) -> HomeId | None:
        """The one home whose people and cards may be seen; None: every home's."""
        return self.actor.home


class ApiRequest(HttpRequest):
    """`auth` is what the door let in."""

    clock: Clock
    auth: Caller
