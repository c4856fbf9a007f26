"""The words at the foot of every screen: other work, as far as the role may go there."""

from dataclasses import dataclass
from functools import cache

from django.urls import reverse

from dosewright.core.custody.event import Actor
from dosewright.web.rights import address_named

__all__ = ["WAYS", "Way", "ways_for"]


@dataclass(frozen=True, slots=True)
class Way:
    """Words and the address's name."""

    words: str
    name: str

    @property
    def url(self) -> str:
        """The address itself."""
        return _url(self.name)


@cache
def _url(name: str) -> str:
    """Every screen shows all ways, and their addresses never change."""
    return reverse(name)


WAYS: tuple[Way, ...] = (
    Way("Today’s sets", "work-list"),
    Way("Our people", "home"),
    Way("Deliveries", "deliveries"),
    Way("Find a card", "find"),
    Way("History", "history"),
    Way("Orders in", "orders-in"),
    Way("Readings to confirm", "readings"),
    Way("Changes", "changes"),
    Way("Plan", "plan"),
    Way("People", "people"),
    Way("Sheets", "sheets"),
    Way("Stock", "stock"),
    Way("Owed", "owings"),
    Way("Medicines in", "medicines-in"),
    Way("Printers", "printers"),
    Way("Note a near miss", "note-near-miss"),
    Way("Near misses", "near-misses"),
    Way("Records", "records"),
    Way("Rules", "rules"),
    Way("Who signs in", "accounts"),
    Way("Ledger", "ledger"),
    Way("My badge", "my-badge"),
    Way("Programs", "programs"),
)


def ways_for(person: Actor | None) -> tuple[Way, ...]:
    """In the same order for everybody, so that the same thing is at the same place."""
    return tuple(way for way in WAYS if person and person.role in address_named(way.name).readers)
