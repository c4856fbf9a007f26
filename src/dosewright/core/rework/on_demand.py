"""Cards for as-needed medicines when orders change: they hold nothing that is due, so that no cavity of them is put right by itself.

Comes in: such a card and the orders that count now. Goes out: which of its orders still ask the same, and which do not (R17).
"""

from collections.abc import Iterable

from dosewright.core.packing.plan_values import Alongside, Card
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.order import Order
from dosewright.core.rework.situation import Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import MedicineCode

__all__ = ["changed_in", "check_on_demand", "kept_in_cards"]

_Ask = tuple[MedicineCode, tuple[Dosage, ...]]


def check_on_demand(situation: Situation) -> tuple[Finding, ...]:
    """A `decide` for each medicine of an open as-needed card whose order is not what it was: the card is left as it is, and said to be."""
    known = {person.id: person for person in situation.after.people}
    return tuple(
        Finding(
            "rework.as-needed-left", Severity.DECIDE, {"person": open_card.person, "card": open_card.number}, {"name": name, "medicine": m}
        )
        for open_card in situation.cards
        if open_card.card.as_needed and open_card.person in known and open_card.card.beyond_use >= situation.at.day
        for name in (known[open_card.person].name,)
        for m in _labels(changed_in(open_card.card, situation.before.orders, situation.after.orders, situation.at), situation)
    )


def _labels(codes: Iterable[MedicineCode], situation: Situation) -> Iterable[str]:
    known = situation.before.medicines
    return (known[code].label if code in known else code for code in codes)


def changed_in(card: Card, before: Iterable[Order], after: Iterable[Order], at: Moment) -> tuple[MedicineCode, ...]:
    """The medicines of the card whose orders do not ask the same as before, from the moment to the card's last day."""
    was, now = (_asks(orders, card, at) for orders in (tuple(before), tuple(after)))
    ids = {column.when_needed.order: column.when_needed for column in card.columns if column.when_needed}
    return tuple(sorted({says.medicine for order, says in ids.items() if was.get(order) not in now.values()}))


def kept_in_cards(alongside: Iterable[Alongside], cards: Iterable[Card], situation: Situation) -> tuple[Alongside, ...]:
    """The alongside list without the orders that lie in cards of their own and ask what they asked: nothing is in two places (R1)."""
    before = {order.id: (order.medicine, order.dosages) for order in situation.before.orders}
    packed = {before.get(column.when_needed.order) for card in cards for column in card.columns if column.when_needed}
    after = {order.id: (order.medicine, order.dosages) for order in situation.after.orders}
    return tuple(entry for entry in alongside if entry.why != "as-needed" or after.get(entry.order) not in packed)


def _asks(orders: Iterable[Order], card: Card, at: Moment) -> dict[str, _Ask]:
    """What each order asks that is in force from the moment to the card's last day."""
    last = Moment(card.last)
    lasting = (order for order in orders if order.in_force(max(at, Moment(card.first))) and order.in_force(last))
    return {order.id: (order.medicine, order.dosages) for order in lasting}
