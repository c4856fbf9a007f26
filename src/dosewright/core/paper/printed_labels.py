"""Which labels a document has, by name: what is printed must be accounted for, label by label.

Comes in: the pages of label sheets and what they were drawn from. Goes out: for each card the names of its labels, in order of the sheet:
"h1" is its first header, "c3-2" the cavity in row 3 and column 2.
"""

from collections import Counter
from collections.abc import Iterable, Mapping

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.labels import labelled_places
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Page
from dosewright.core.units.ids import CardNumber

__all__ = ["labels_on"]


def labels_on(pages: Iterable[Page], people: Iterable[PersonPlan], material: Material) -> Mapping[CardNumber, tuple[str, ...]]:
    """Each page of a card has one header; its first page has the labels of the cavities too."""
    headers = Counter(str(dict(page.about).get("card")) for page in pages)
    cards = (card for person in people for card in person.cards if headers[card.number])
    return {
        card.number: (
            *(f"h{n}" for n in range(1, headers[card.number] + 1)),
            *(f"c{row}-{column.column}" for column, row, _ in labelled_places(card, material)),
        )
        for card in cards
    }
