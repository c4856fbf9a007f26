"""Stock by lot and its movements ⇄ rows. A lot's row is locked while units of it move."""

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from dosewright.core.supply.account import LotKey
from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import ROUTES, Batch, Movement, MovementKind, Place
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode
from dosewright.core.units.quantity import format_amount, parse_amount
from dosewright.store.missing import Missing
from dosewright.store.models import StockLot, StockMovement
from dosewright.store.questions import Question

__all__ = [
    "find_lot",
    "load_movements",
    "load_movements_of_lot",
    "load_recalled_lots",
    "load_stock",
    "load_stock_by_lot",
    "load_stock_of",
    "lock_lot",
    "lock_lots",
    "mark_recalled",
    "save_lot",
    "save_movements",
]


def save_lot(batch: Batch) -> None:
    """Make the lot known, with nothing in stock yet; a known one stays as it is."""
    StockLot.objects.get_or_create(medicine_id=batch.medicine, lot=batch.lot, defaults={"expiry": batch.expiry})


def find_lot(medicine: MedicineCode, lot: Lot) -> Stock | None:
    """The lot and how much of it is in stock now, or None."""
    row = _LOT.one(medicine, lot)
    return _stock_of(row) if row else None


def lock_lot(medicine: MedicineCode, lot: Lot) -> Stock:
    """The same, kept from the other stations until the transaction ends. Raises Missing."""
    row = _LOT_LOCKED.one(medicine, lot)
    if row is None:
        raise Missing("lot", lot)
    return _stock_of(row)


_FIELDS = ("medicine_id", "lot", "expiry", "in_stock", "id", "recalled")
_LOT = Question(lambda medicine, lot: StockLot.objects.filter(medicine_id=medicine, lot=lot).values_list(*_FIELDS))
_LOT_LOCKED = Question(
    lambda medicine, lot: StockLot.objects.select_for_update().filter(medicine_id=medicine, lot=lot).values_list(*_FIELDS)
)
_LOTS = Question(lambda medicine: StockLot.objects.filter(medicine_id=medicine).order_by("expiry", "lot").values_list(*_FIELDS))


def _stock_of(row: tuple[str, str, date, str, int, str]) -> Stock:
    medicine, lot, expiry, in_stock, _, recalled = row
    return Stock(Batch(expiry, Lot(lot), MedicineCode(medicine)), parse_amount(in_stock), recalled)


def mark_recalled(medicine: MedicineCode, lot: Lot, why: str) -> None:
    """From now on nothing of the lot is used, and why; "": it is used again. Call with the lot locked."""
    StockLot.objects.filter(medicine_id=medicine, lot=lot).update(recalled=why)


_RECALLED = Question(lambda: StockLot.objects.exclude(recalled="").values_list("medicine_id", "lot"))


def load_recalled_lots() -> frozenset[LotKey]:
    """Every lot that is recalled now."""
    return frozenset((MedicineCode(medicine), Lot(lot)) for medicine, lot in _RECALLED.rows())


def lock_lots(movements: Iterable[Movement]) -> None:
    """Keep every lot that the movements name from the other stations, in one order for everybody."""
    lots = sorted({(movement.medicine, movement.lot) for movement in movements})
    for medicine, lot in lots:
        lock_lot(medicine, lot)


def load_stock(medicine: MedicineCode | None = None) -> tuple[Stock, ...]:
    """Every lot, or one medicine's, earliest expiry first. Empty lots are among them."""
    rows = _LOTS.rows(medicine) if medicine else StockLot.objects.order_by("medicine_id", "expiry", "lot").values_list(*_FIELDS)
    return tuple(map(_stock_of, rows))


def load_stock_of(medicines: Iterable[MedicineCode]) -> tuple[Stock, ...]:
    """Every lot of those medicines, earliest expiry first. Empty lots are among them."""
    rows = StockLot.objects.filter(medicine_id__in=list(medicines)).order_by("medicine_id", "expiry", "lot")
    return tuple(map(_stock_of, rows.values_list(*_FIELDS)))


def load_stock_by_lot() -> dict[LotKey, Fraction]:
    """What the lots' rows say is in stock."""
    return {(stock.batch.medicine, stock.batch.lot): stock.amount for stock in load_stock()}


def save_movements(movements: Iterable[Movement], entry: int) -> None:
    """Record movements and keep each lot's stock in step. `entry` is the ledger's number of the event that moved them."""
    by_lot: dict[LotKey, list[Movement]] = {}
    for movement in movements:
        by_lot.setdefault((movement.medicine, movement.lot), []).append(movement)
    for (medicine, lot), moved in by_lot.items():
        row = _LOT.one(medicine, lot)
        if row is None:
            raise Missing("lot", lot)
        StockMovement.objects.bulk_create(_moved(row[4], movement, entry) for movement in moved)
        if change := sum((_change(movement) for movement in moved), Fraction(0)):
            StockLot.objects.filter(pk=row[4]).update(in_stock=format_amount(parse_amount(row[3]) + change))


def _moved(lot: int, movement: Movement, entry: int) -> StockMovement:
    return StockMovement(lot_id=lot, kind=movement.kind.value, amount=format_amount(movement.amount), card=movement.card or "", entry=entry)


def _change(movement: Movement) -> Fraction:
    """By how much the stock goes up."""
    source, destination = ROUTES[movement.kind]
    return movement.amount * ((destination is Place.STOCK) - (source is Place.STOCK))


def load_movements(card: CardNumber | None = None) -> tuple[Movement, ...]:
    """Every movement, or those of one card, in order."""
    rows = StockMovement.objects.select_related("lot").order_by("id")
    return tuple(_movement(row) for row in (rows.filter(card=card) if card else rows))


def load_movements_of_lot(lot: Lot) -> tuple[Movement, ...]:
    """Every movement of the lots of that name, in order."""
    return tuple(_movement(row) for row in StockMovement.objects.select_related("lot").filter(lot__lot=lot).order_by("id"))


def _movement(row: StockMovement) -> Movement:
    kind, card = MovementKind(row.kind), CardNumber(row.card) if row.card else None
    return Movement(kind, MedicineCode(row.lot.medicine_id), Lot(row.lot.lot), parse_amount(row.amount), card)
