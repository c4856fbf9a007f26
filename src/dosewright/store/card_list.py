"""Cards found by what their rows repeat: stage, person, home. For lists; what a card is now comes from its events."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber, HomeId, PersonId
from dosewright.store.models import CardRow

__all__ = ["CardsWanted", "ListedCard", "list_cards"]


@dataclass(frozen=True, slots=True)
class CardsWanted:
    """`bound` is the one home that may be seen (None: all); the rest is what is looked for, None: whatever it is. At most `most`, of those
    whose number comes `after`."""

    bound: HomeId | None
    home: HomeId | None = None
    person: PersonId | None = None
    stage: Stage | None = None
    number: CardNumber | None = None
    after: str = ""
    most: int = 100


@dataclass(frozen=True, slots=True)
class ListedCard:
    """A card in brief."""

    number: CardNumber
    set: int
    person: PersonId
    home: HomeId | None
    stage: Stage
    out_of_date: bool
    first: date
    last: date


def list_cards(wanted: CardsWanted) -> tuple[ListedCard, ...]:
    """By number."""
    return tuple(_listed(wanted))


def _listed(wanted: CardsWanted) -> Iterator[ListedCard]:
    asked = {
        "card_set__person__home_id": wanted.home,
        "card_set__person_id": wanted.person,
        "number": wanted.number,
        "stage": wanted.stage.value if wanted.stage else None,
    }
    rows = CardRow.objects.select_related("card_set__person").defer("value", "card_set__request", "card_set__plan")
    rows = rows.filter(**{name: value for name, value in asked.items() if value is not None}, number__gt=wanted.after)
    if wanted.bound is not None:
        rows = rows.filter(card_set__person__home_id=wanted.bound)
    for row in rows.order_by("number")[: wanted.most]:
        person = row.card_set.person
        home = HomeId(person.home_id) if person.home_id else None
        yield ListedCard(
            CardNumber(row.number), row.card_set_id, PersonId(person.id), home, Stage(row.stage), row.out_of_date, row.first, row.last
        )
