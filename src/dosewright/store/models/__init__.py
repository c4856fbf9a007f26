"""The only database models, one module an idea. Outside the store they are reached through its `load_`, `save_` and `lock_` functions."""

from dosewright.store.models.account import Account, AccountManager
from dosewright.store.models.answer import OrderAnswer
from dosewright.store.models.card import CardRow, CardSet, MadePaper, PrintedPaper
from dosewright.store.models.ledger import Attempt, LedgerEntry, LedgerHead
from dosewright.store.models.medicine import MedicineCodeRow, MedicineRow
from dosewright.store.models.near_miss import ChartNote, NearMiss
from dosewright.store.models.order import OrderFile, OrderRow
from dosewright.store.models.person import HomeRow, PersonRow, TimetableRow
from dosewright.store.models.pharmacy import Pharmacy, RuleBook
from dosewright.store.models.printer import PrinterRow
from dosewright.store.models.stock import StockLot, StockMovement
from dosewright.store.models.unused import UnusedOrderRow
from dosewright.store.models.wording import WordingRow

__all__ = [
    "Account",
    "AccountManager",
    "Attempt",
    "CardRow",
    "CardSet",
    "ChartNote",
    "HomeRow",
    "LedgerEntry",
    "LedgerHead",
    "MadePaper",
    "MedicineCodeRow",
    "MedicineRow",
    "NearMiss",
    "OrderAnswer",
    "OrderFile",
    "OrderRow",
    "PersonRow",
    "Pharmacy",
    "PrintedPaper",
    "PrinterRow",
    "RuleBook",
    "StockLot",
    "StockMovement",
    "TimetableRow",
    "UnusedOrderRow",
    "WordingRow",
]
