"""Stock by lot and its movements ⇄ rows. A lot's row is locked while units of it move."""

from collections.abc import Iterable
from fractions import Fraction

from dosewright.core.supply.account import LotKey
from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import ROUTES, Batch, Movement, MovementKind, Place
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode
from dosewright.core.units.quantity import format_amount, parse_amount
from dosewright.store.missing import Missing
from dosewright.store.models import StockLot, StockMovement

__all__ = [
    "load_movements",
    "load_movements_of_lot",
    "load_stock",
    "load_stock_by_lot",
    "load_stock_of",
    "lock_lot",
    "lock_lots",
    "save_lot",
    "save_movements",
]


def save_lot(batch: Batch) -> None:
    """Make the lot known, with nothing in stock yet; a known one stays as it is."""
    StockLot.objects.get_or_create(medicine_id=batch.medicine, lot=batch.lot, defaults={"expiry": batch.expiry})


def lock_lot(medicine: MedicineCode, lot: Lot) -> Stock:
    """The lot and how much of it is in stock, kept from the other stations. Raises Missing."""
    row = StockLot.objects.select_for_update().filter(medicine_id=medicine, lot=lot).first()
    if row is None:
        raise Missing("lot", lot)
    return _stock(row)


def lock_lots(movements: Iterable[Movement]) -> None:
    """Keep every lot that the movements name from the other stations, in one order for everybody."""
    lots = sorted({(movement.medicine, movement.lot) for movement in movements})
    for medicine, lot in lots:
        lock_lot(medicine, lot)


def load_stock(medicine: MedicineCode | None = None) -> tuple[Stock, ...]:
    """Every lot, or one medicine's, earliest expiry first. Empty lots are among them."""
    rows = StockLot.objects.order_by("medicine_id", "expiry", "lot")
    return tuple(_stock(row) for row in (rows.filter(medicine_id=medicine) if medicine else rows))


def load_stock_of(medicines: Iterable[MedicineCode]) -> tuple[Stock, ...]:
    """Every lot of those medicines, earliest expiry first. Empty lots are among them."""
    return tuple(_stock(row) for row in StockLot.objects.filter(medicine_id__in=list(medicines)).order_by("medicine_id", "expiry", "lot"))


def load_stock_by_lot() -> dict[LotKey, Fraction]:
    """What the lots' rows say is in stock."""
    return {(stock.batch.medicine, stock.batch.lot): stock.amount for stock in load_stock()}


def save_movements(movements: Iterable[Movement], entry: int) -> None:
    """Record movements and keep each lot's stock in step. `entry` is the ledger's number of the event that moved them."""
    for movement in movements:
        row = StockLot.objects.get(medicine_id=movement.medicine, lot=movement.lot)
        amount = format_amount(movement.amount)
        StockMovement.objects.create(lot=row, kind=movement.kind.value, amount=amount, card=movement.card or "", entry=entry)
        source, destination = ROUTES[movement.kind]
        change = movement.amount * ((destination is Place.STOCK) - (source is Place.STOCK))
        if change:
            StockLot.objects.filter(pk=row.pk).update(in_stock=format_amount(parse_amount(row.in_stock) + change))


def load_movements(card: CardNumber | None = None) -> tuple[Movement, ...]:
    """Every movement, or those of one card, in order."""
    rows = StockMovement.objects.select_related("lot").order_by("id")
    return tuple(_movement(row) for row in (rows.filter(card=card) if card else rows))


def load_movements_of_lot(lot: Lot) -> tuple[Movement, ...]:
    """Every movement of the lots of that name, in order."""
    return tuple(_movement(row) for row in StockMovement.objects.select_related("lot").filter(lot__lot=lot).order_by("id"))


def _stock(row: StockLot) -> Stock:
    return Stock(Batch(row.expiry, Lot(row.lot), MedicineCode(row.medicine_id)), parse_amount(row.in_stock))


def _movement(row: StockMovement) -> Movement:
    kind, card = MovementKind(row.kind), CardNumber(row.card) if row.card else None
    return Movement(kind, MedicineCode(row.lot.medicine_id), Lot(row.lot.lot), parse_amount(row.amount), card)
