"""The person who lives with the card, as orders and paper name them."""

from dataclasses import dataclass
from datetime import date

from dosewright.core.units.ids import HomeId, PersonId

__all__ = ["Person"]


@dataclass(frozen=True, slots=True)
class Person:
    """`name` is printed whole, always. `born` and the home and room are the second identifiers. `home` is None for people at home."""

    id: PersonId
    name: str
    born: date | None = None
    home: HomeId | None = None
    room: str = ""
    address: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a person needs a name")
