"""Where somebody begins: the work list; a carer with their home, a driver with the deliveries."""

from django.urls import reverse

from dosewright.core.custody.event import Actor
from dosewright.web.rights import address_named

__all__ = ["first_screen"]

_FIRST = ("work-list", "home", "deliveries")


def first_screen(actor: Actor) -> str:
    """The first of these that the role may see; everybody may see one, and a card that is scanned is found from each."""
    return reverse(next(name for name in (*_FIRST, "find") if actor.role in address_named(name).readers))
