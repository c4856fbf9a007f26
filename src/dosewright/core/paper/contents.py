"""What one person's cards hold, counted from the plan: per card and order the amount, what is elsewhere in the set, what is alongside."""

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Card, PersonPlan
from dosewright.core.paper.material import Material
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId

__all__ = ["Held", "held_in", "medicines_elsewhere", "medicines_in", "orders_alongside"]


@dataclass(frozen=True, slots=True)
class Held:
    """So much of one order's medicine, in all, in one card."""

    card: CardNumber
    order: Order
    medicine: Medicine
    total: Fraction


def held_in(card: Card, material: Material) -> tuple[Held, ...]:
    """Every order in the card with its total, by the medicine's name, then the order's id."""
    totals: dict[OrderId, Fraction] = defaultdict(Fraction)
    medicines: dict[OrderId, MedicineCode] = {}
    for content in (content for cavity in card.cavities for content in cavity.contents):
        totals[content.order] += content.quantity.count
        medicines[content.order] = content.medicine
    held = [Held(card.number, material.order(order), material.medicine(medicines[order]), total) for order, total in totals.items()]
    return tuple(sorted(held, key=lambda one: (one.medicine.label.casefold(), one.order.id)))


def orders_alongside(person: PersonPlan, material: Material) -> tuple[tuple[Order, Medicine], ...]:
    """Orders supplied with the set but in no card, in the plan's order."""
    return tuple((material.order(line.order), material.medicine(line.medicine)) for line in person.alongside)


def medicines_in(card: Card) -> frozenset[MedicineCode]:
    """The medicines that lie in a card."""
    return frozenset(content.medicine for cavity in card.cavities for content in cavity.contents)


def medicines_elsewhere(card: Card, person: PersonPlan, material: Material) -> tuple[Medicine, ...]:
    """Medicines of the set's other cards that this card does not hold, by name."""
    others = frozenset(code for other in person.cards for code in medicines_in(other)) - medicines_in(card)
    return tuple(sorted((material.medicine(code) for code in others), key=lambda medicine: medicine.label.casefold()))
