"""From a lot to every card and cavity that holds it, and to where every unit of it went; from a card to every lot in it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction

from dosewright.core.custody.stage import Stage
from dosewright.core.packing.plan_values import PackedCavity
from dosewright.core.supply.account import Account, LotKey, accounts
from dosewright.core.supply.placement import Placed
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, SlotName
from dosewright.core.units.person import Person
from dosewright.store.cards import StoredCard, load_card
from dosewright.store.models import CardRow, StockMovement
from dosewright.store.stock import load_movements_of_lot

__all__ = ["Traced", "is_card", "trace_card", "trace_lot"]


@dataclass(frozen=True, slots=True)
class Traced:
    """Units of a lot in one cavity: whose, when they are due, and where the card is."""

    card: CardNumber
    stage: Stage
    person: Person
    row: int
    column: int
    day: date
    time: time
    slot: SlotName
    medicine: MedicineCode
    lot: Lot
    expiry: date
    amount: Fraction


def is_card(word: str) -> bool:
    """Whether a card has this number."""
    return CardRow.objects.filter(number=word).exists()


def trace_card(number: CardNumber) -> tuple[Traced, ...]:
    """Every unit in the card, cavity by cavity. Raises Missing."""
    return tuple(_traced(load_card(number), None))


def trace_lot(lot: Lot) -> tuple[tuple[Traced, ...], dict[LotKey, Account]]:
    """Every cavity that holds a unit of the lot, by card; and the lot's account, one for each medicine that has a lot of this name."""
    numbers = StockMovement.objects.filter(lot__lot=lot).exclude(card="").order_by("card").values_list("card", flat=True).distinct()
    held = tuple(unit for number in numbers for unit in _traced(load_card(CardNumber(number)), lot))
    return held, accounts(load_movements_of_lot(lot))


def _traced(stored: StoredCard, lot: Lot | None) -> Iterator[Traced]:
    by_place = {(cavity.row, cavity.column): cavity for cavity in stored.card.cavities}
    for units in stored.state.placed:
        if lot is None or units.lot == lot:
            yield _one(stored, units, by_place[units.cell.row, units.cell.column])


def _one(stored: StoredCard, units: Placed, cavity: PackedCavity) -> Traced:
    return Traced(
        card=stored.number,
        stage=stored.state.stage,
        person=stored.person,
        row=cavity.row,
        column=cavity.column,
        day=cavity.day,
        time=cavity.time,
        slot=cavity.slot,
        medicine=units.medicine,
        lot=units.lot,
        expiry=units.expiry,
        amount=units.amount,
    )
