"""What to fetch for one person's set, medicine by medicine in the order in which it is placed, and where each amount goes.

Halves take whole units from the bottle: 21 halves are 11 tablets (CV-7.2). The order is the medicine's name, then its code: the same every
time, and the same on paper and on the screen.
"""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import look_alike
from dosewright.core.packing.plan_values import Card, PersonPlan
from dosewright.core.paper.material import Material
from dosewright.core.units.ids import CardNumber, MedicineCode

__all__ = ["Amounts", "Fetch", "already_in", "amounts_in", "fetches", "pieces", "whole_units"]

# Cavity (row, column) → how much of one medicine goes there.
Amounts = dict[tuple[int, int], Fraction]


@dataclass(frozen=True, slots=True)
class Fetch:
    """One medicine to place: how much in all, whole units to take from the bottle, where it goes in each card, and its look-alikes."""

    medicine: Medicine
    total: Fraction
    whole: int
    cards: tuple[tuple[Card, Amounts], ...]
    alike: tuple[Medicine, ...]


def fetches(person: PersonPlan, material: Material) -> tuple[Fetch, ...]:
    """Every medicine of the set's cards, in the order of fetching."""
    codes = {content.medicine for card in person.cards for cavity in card.cavities for content in cavity.contents}
    medicines = sorted((material.medicine(code) for code in codes), key=lambda medicine: (medicine.label.casefold(), medicine.code))
    return tuple(_fetch(medicine, person, medicines) for medicine in medicines)


def _fetch(medicine: Medicine, person: PersonPlan, others: list[Medicine]) -> Fetch:
    placed = tuple((card, amounts) for card in person.cards if (amounts := amounts_in(card, medicine.code)))
    every = [amount for _, amounts in placed for amount in amounts.values()]
    return Fetch(
        medicine, sum(every, Fraction()), whole_units(every), placed, tuple(other for other in others if look_alike(medicine, other))
    )


def amounts_in(card: Card, medicine: MedicineCode) -> Amounts:
    """Where one medicine goes in a card; two orders of the same medicine are added up."""
    found: Amounts = {}
    for cavity in card.cavities:
        for content in cavity.contents:
            if content.medicine == medicine:
                place = (cavity.row, cavity.column)
                found[place] = found.get(place, Fraction()) + content.quantity.count
    return found


def whole_units(amounts: list[Fraction]) -> int:
    """Units to take from the bottle when parts are cut from whole ones and nothing else is used: the sum, rounded up. Source: CV-7.2."""
    return ceil(sum(amounts, Fraction()))


def pieces(amount: Fraction) -> int:
    """Things that lie in the cavity: one and a half tablets are two pieces."""
    return ceil(amount)


def already_in(fetched: tuple[Fetch, ...], before: int, card: CardNumber) -> dict[tuple[int, int], int]:
    """Pieces that lie in each cavity of a card when the first `before` medicines have been placed."""
    found: dict[tuple[int, int], int] = {}
    for fetch in fetched[:before]:
        for other, amounts in fetch.cards:
            if other.number == card:
                for place, amount in amounts.items():
                    found[place] = found.get(place, 0) + pieces(amount)
    return found
