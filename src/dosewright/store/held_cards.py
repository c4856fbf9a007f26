"""Which cards hold units of a lot that is recalled, for lists: found by what moved into them and out again, without reading any card."""

from collections import defaultdict
from fractions import Fraction

from dosewright.core.custody.stage import OVER
from dosewright.core.supply.movement import ROUTES, MovementKind, Place
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.quantity import parse_amount
from dosewright.store.models import CardRow, StockMovement

__all__ = ["load_cards_with_recalled"]


def load_cards_with_recalled() -> frozenset[CardNumber]:
    """Cards whose life is not over, with something of a recalled lot in them. One query."""
    still = CardRow.objects.exclude(stage__in=[stage.value for stage in OVER]).values("number")
    moved = StockMovement.objects.exclude(lot__recalled="").filter(card__in=still).values_list("card", "lot_id", "kind", "amount")
    held: dict[tuple[str, int], Fraction] = defaultdict(Fraction)
    for card, lot, kind, amount in moved:
        held[card, lot] += _into(MovementKind(kind), parse_amount(amount))
    return frozenset(CardNumber(card) for (card, _), amount in held.items() if amount > 0)


def _into(kind: MovementKind, amount: Fraction) -> Fraction:
    _, there = ROUTES[kind]
    return amount if there is Place.CARD else -amount
