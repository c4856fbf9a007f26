"""Cards on their way out of the pharmacy and in their homes, as a driver and a carer see them: whose, from when, where they are."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber, HomeId
from dosewright.core.units.person import Person
from dosewright.store.models import CardRow
from dosewright.store.people import person_of

__all__ = ["CardOutside", "load_cards_outside"]


@dataclass(frozen=True, slots=True)
class CardOutside:
    """One card: where it stands, the days it holds, whose it is. `home` is the printed name, "" for somebody at home."""

    number: CardNumber
    person: Person
    home: str
    stage: Stage
    out_of_date: bool
    first: date
    last: date
    position: int


def load_cards_outside(stages: Collection[Stage], home: HomeId | None = None) -> tuple[CardOutside, ...]:
    """The cards that stand at one of these stages, of one home's people where one is named; by home, person, first day."""
    rows = CardRow.objects.filter(stage__in=[stage.value for stage in stages]).select_related("card_set__person__home")
    rows = rows.defer("value", "card_set__request", "card_set__plan")
    found = map(_outside, rows.filter(card_set__person__home_id=home) if home else rows)
    return tuple(sorted(found, key=lambda one: (not one.home, one.home, one.person.name, one.person.id, one.first, one.position)))


def _outside(row: CardRow) -> CardOutside:
    person = row.card_set.person
    home = person.home.name if person.home else ""
    return CardOutside(
        CardNumber(row.number), person_of(person), home, Stage(row.stage), row.out_of_date, row.first, row.last, row.position
    )
