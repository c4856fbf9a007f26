"""Where somebody goes from a card: to the card's own screen, or, for who does not see the bench, to the cards to take along."""

from django.urls import reverse

from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import RIGHTS, Ability

__all__ = ["onward"]


def onward(role: Role, number: str) -> str:
    """An address that the role may see: nobody is led to a refusal that goes on record (R14)."""
    return reverse("card", args=[number]) if role in RIGHTS[Ability.LOOK] else reverse("deliveries")
