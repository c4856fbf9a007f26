"""What lies in all cards, counted from their events, without the movements of stock: the other side of the account (R11)."""

from collections import defaultdict
from fractions import Fraction

from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import state_of
from dosewright.core.supply.account import LotKey
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import load_card_events
from dosewright.store.models import CardRow

__all__ = ["load_units_in_cards"]


def load_units_in_cards() -> dict[LotKey, Fraction]:
    """Units by lot in every card that has not come back and was not destroyed."""
    held: dict[LotKey, Fraction] = defaultdict(Fraction)
    for number in CardRow.objects.order_by("number").values_list("number", flat=True):
        state = state_of(CardNumber(number), load_card_events(CardNumber(number)))
        for units in state.placed if state.stage is not Stage.RETURNED else ():
            held[units.medicine, units.lot] += units.amount
    return dict(held)
