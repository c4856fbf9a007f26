"""Cards for as-needed medicines: orders with their doses in, cards out, the fewest: every dose has a cavity, every column one medicine.

They hold nothing else, so that nothing on them is due at any time. A medicine's columns follow each other, from card to card.
"""

from collections.abc import Iterable, Sequence
from datetime import time
from fractions import Fraction

from dosewright.core.medicines.volume import volume_of
from dosewright.core.packing.as_needed import OnDemand
from dosewright.core.packing.last_day import last_day_of
from dosewright.core.packing.plan_values import WHEN_NEEDED, Card, CardColumn, Content, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.units.ids import CardNumber

__all__ = ["on_demand_cards"]

_Column = tuple[OnDemand, int, int, int]  # what it holds, which part of how many, and how many doses
_NO_TIME = time(0)


def on_demand_cards(orders: Iterable[OnDemand], request: PlanRequest) -> list[Card]:
    """The cards in order of the medicines' names, without numbers. As many columns to a card as it has: fewer cards there cannot be."""
    rows, width = request.format.rows, request.format.columns
    in_order = sorted(orders, key=lambda one: (one.medicine.label, one.medicine.code, one.says.order))
    columns = [column for one in in_order for column in _columns(one, rows)]
    return [_card(columns[at : at + width], request) for at in range(0, len(columns), width)]


def _columns(one: OnDemand, rows: int) -> list[_Column]:
    parts = -(-one.doses // rows)
    return [(one, part, parts, min(rows, one.doses - rows * (part - 1))) for part in range(1, parts + 1)]


def _card(columns: Sequence[_Column], request: PlanRequest) -> Card:
    last = last_day_of([one.medicine for one, *_ in columns], request)
    heads = tuple(
        CardColumn(at, WHEN_NEEDED, _NO_TIME, request.first, part, parts, one.says)
        for at, (one, part, parts, _) in enumerate(columns, start=1)
    )
    cavities = (
        PackedCavity(row, at, last, WHEN_NEEDED, _NO_TIME, (_content(one),), _fill(one, request))
        for row in range(1, request.format.rows + 1)
        for at, (one, _, _, doses) in enumerate(columns, start=1)
        if row <= doses
    )
    return Card(CardNumber(""), request.first, request.last, last, heads, tuple(cavities))


def _content(one: OnDemand) -> Content:
    return Content(one.says.order, one.medicine.code, one.says.dose)


def _fill(one: OnDemand, request: PlanRequest) -> Fraction:
    return Fraction(volume_of(one.medicine, one.says.dose.count), request.format.cavity.volume)
