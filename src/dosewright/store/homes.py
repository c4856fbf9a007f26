"""Whose home a person, an order, a set or a card belongs to: what a home's own people may see hangs on it (R14)."""

from collections.abc import Callable, Mapping
from typing import Any

from dosewright.core.units.ids import HomeId
from dosewright.store.models import CardRow, CardSet, ChangeRow, OrderRow, PersonRow

__all__ = ["homes_of"]

_HOMES: dict[str, Callable[[Any], list[str | None]]] = {
    "number": lambda number: list(CardRow.objects.filter(number=number).values_list("card_set__person__home_id", flat=True)),
    "set_id": lambda set_id: list(CardSet.objects.filter(id=set_id).values_list("person__home_id", flat=True)),
    "person": lambda person: list(PersonRow.objects.filter(id=person).values_list("home_id", flat=True)),
    "order": lambda order: list(OrderRow.objects.filter(id=order).values_list("person__home_id", flat=True)),
    "change": lambda change: list(ChangeRow.objects.filter(id=change).values_list("person__home_id", flat=True)),
    "home": lambda home: [home],
}


def homes_of(named: Mapping[str, Any]) -> tuple[HomeId | None, ...]:
    """The home of everything that an address names, None for somebody of no home. What is not there has none, and is not in the answer."""
    found = [home for name, value in named.items() if name in _HOMES for home in _HOMES[name](value)]
    return tuple(HomeId(home) if home else None for home in found)
