"""What paper says where a column has no day and no dosing time: only when needed, how much a dose, the most in 24 hours, how long apart.

Comes in: a column's `WhenNeeded`, or a person's cards. Goes out: words; rows of a sheet; and, worked out again from the cavities and not
from what the columns say, what must be read there (`on_demand_truth`).
"""

from collections import defaultdict
from collections.abc import Mapping
from datetime import date

from dosewright.core.packing.plan_values import PersonPlan, WhenNeeded
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import placed_words, total_words
from dosewright.core.paper.page import About
from dosewright.core.paper.words import Para, bold, plain
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, PersonId
from dosewright.core.units.quantity import Quantity

__all__ = ["ONLY_WHEN_NEEDED", "cards_on_demand", "limit_words", "on_demand_rows", "on_demand_truth", "when_needed_in"]

ONLY_WHEN_NEEDED = "Only when needed"
_HOUR = 60


def limit_words(said: WhenNeeded, material: Material) -> str:
    """ "at most 8 tablets in 24 hours, at least 4 hours apart"."""
    most = f"at most {total_words(material.medicine(said.medicine), said.most.count)} in 24 hours"
    return f"{most}, at least {_span(said.apart)} apart" if said.apart else most


def _span(minutes: int) -> str:
    if minutes % _HOUR:
        return f"{minutes} minutes"
    return f"{minutes // _HOUR} {'hour' if minutes == _HOUR else 'hours'}"


def when_needed_in(person: PersonPlan) -> Mapping[OrderId, WhenNeeded]:
    """What the columns of the person's cards say of each order that is taken when needed."""
    return {column.when_needed.order: column.when_needed for card in person.cards for column in card.columns if column.when_needed}


def on_demand_rows(person: PersonId, said: WhenNeeded, material: Material) -> list[tuple[tuple[Para, ...], About]]:
    """Two rows of a sheet for staff: how much lies in each cavity, to be recounted; and how much may be taken."""
    dose = placed_words(material.medicine(said.medicine), said.dose, number_style(material))
    each = Para((bold(f"{ONLY_WHEN_NEEDED}: {dose} in each cavity that is used."),), 11.0, 9.0, indent=4.0)
    limit = limit_words(said, material)
    most = Para((plain(f"{limit[0].upper()}{limit[1:]}."),), 11.0, 9.0, indent=4.0)
    return [((each,), ("on demand", person, said.order)), ((most,), ())]


def on_demand_truth(person: PersonPlan, material: Material) -> Mapping[OrderId, tuple[MedicineCode, str]]:
    """Of each such order its medicine and what its row must say, by what lies in the cavities. Cavities that differ say so in one text,
    which no sheet has."""
    amounts: dict[tuple[OrderId, MedicineCode], set[Quantity]] = defaultdict(set)
    for cavity in (cavity for card in person.cards if card.as_needed for cavity in card.cavities):
        for content in cavity.contents:
            amounts[content.order, content.medicine].add(content.quantity)
    found: dict[OrderId, tuple[MedicineCode, str]] = {}
    for (order, code), each in amounts.items():
        doses = " or ".join(sorted(placed_words(material.medicine(code), one, number_style(material)) for one in each))
        found[order] = (code, f"Only when needed: {doses} in each cavity that is used.")
    return found


def cards_on_demand(person: PersonPlan, order: OrderId, on: date) -> tuple[CardNumber, ...]:
    """The person's cards with doses of the order that may be taken on that day."""
    return tuple(
        card.number
        for card in person.cards
        if card.as_needed
        and any(card.first <= on <= cavity.day and order in {content.order for content in cavity.contents} for cavity in card.cavities)
    )
