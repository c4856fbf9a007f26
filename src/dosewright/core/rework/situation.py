"""What a change is judged from: the orders before and after, the moment from which the new ones count, and every open card as it is now."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum
from fractions import Fraction

from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.plan_values import Card, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.rework.rates import Rates
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, MedicineCode, PersonId

__all__ = ["OUT", "Cell", "OpenCard", "Place", "Situation", "taken_early"]

Cell = tuple[int, int]  # row and column, from 1


class Place(StrEnum):
    """Where a card is. `shelf`: sealed, and still in the pharmacy. `delivery`: handed over, not yet received."""

    BENCH = "bench"
    SHELF = "shelf"
    DELIVERY = "delivery"
    HOME = "home"
    PERSON = "person"
    MISSING = "missing"


OUT = frozenset({Place.DELIVERY, Place.HOME, Place.PERSON})


@dataclass(frozen=True, slots=True)
class OpenCard:
    """One card that is not yet used up. `card` says what it holds; `used` are the cavities whose contents are gone, whatever it says.

    `form`: its own card format, where it is another than the one that is used now. Its limits are not those of what is filled now, nor is
    its label stock: of such a card something may be taken out, and nothing is laid in.
    """

    card: Card
    person: PersonId
    place: Place = Place.SHELF
    used: frozenset[Cell] = frozenset()
    form: CardFormat | None = None

    @property
    def number(self) -> CardNumber:
        """The card's number."""
        return self.card.number

    def left(self) -> tuple[PackedCavity, ...]:
        """The cavities that still hold what they say."""
        if not self.used:
            return self.card.cavities
        return tuple(cavity for cavity in self.card.cavities if (cavity.row, cavity.column) not in self.used)

    def open_from(self, at: Moment) -> tuple[PackedCavity, ...]:
        """Those of them whose dose falls due at the moment or later: nothing else is ever touched."""
        return tuple(cavity for cavity in self.left() if (cavity.day, cavity.time) >= (at.day, at.time))


def taken_early(cards: Iterable[OpenCard], at: Moment) -> dict[tuple[tuple[date, time], MedicineCode], Fraction]:
    """What was in cavities that are used before their time: how much of which medicine at which dosing time, at the moment or later."""
    given: dict[tuple[tuple[date, time], MedicineCode], Fraction] = {}
    then = (at.day, at.time)
    used = (c for card in cards if card.used for c in card.card.cavities if (c.row, c.column) in card.used)
    for cavity in (c for c in used if (c.day, c.time) >= then):
        for content in cavity.contents:
            key = ((cavity.day, cavity.time), content.medicine)
            given[key] = given.get(key, Fraction(0)) + content.quantity.count
    return given


@dataclass(frozen=True, slots=True)
class Situation:
    """Input of `lay_out`. `before` and `after` differ in their orders; days, card format and rules are those of the set.

    `at`: doses at or after it follow the new orders. `now`: when the work can begin, from which it is reckoned when a card is ready.
    `after.prepared_on` is the day on which new cards are made. A card of a person who is not in `after` is left, and said to be.
    """

    before: PlanRequest
    after: PlanRequest
    at: Moment
    now: Moment
    cards: tuple[OpenCard, ...]
    rates: Rates

    def __repr__(self) -> str:
        """Short: two months of orders and cards would fill pages."""
        return f"Situation(at={self.at}, now={self.now}, {len(self.after.people)} people, {len(self.cards)} cards)"

    def cards_of(self, person: PersonId) -> tuple[OpenCard, ...]:
        """The person's cards that still have a day from the moment on, by first day; not those in which nothing is due."""
        mine = (card for card in self.cards if card.person == person and card.card.last >= self.at.day and not card.card.as_needed)
        return tuple(sorted(mine, key=lambda card: (card.card.first, card.number)))

    def groups_of(self, person: PersonId) -> tuple[tuple[OpenCard, ...], ...]:
        """The person's cards, those together whose days overlap: they share out one dosing time's medicines among them."""
        groups: list[list[OpenCard]] = []
        for card in self.cards_of(person):
            if groups and card.card.first <= max(other.card.last for other in groups[-1]):
                groups[-1].append(card)
            else:
                groups.append([card])
        return tuple(tuple(group) for group in groups)
