"""The only database models, one module an idea. Outside the store they are reached through its `load_`, `save_` and `lock_` functions."""

from dosewright.store.models.account import Account, AccountManager
from dosewright.store.models.answer import OrderAnswer
from dosewright.store.models.card import CardRow, CardSet, MadePaper, PrintedPaper, VoidedLabel
from dosewright.store.models.change import ChangeRow, ReworkRates
from dosewright.store.models.ledger import Attempt, LedgerEntry, LedgerHead
from dosewright.store.models.long_work import LongWorkRow, WorkStepRow
from dosewright.store.models.medicine import MedicineCodeRow, MedicineRow
from dosewright.store.models.near_miss import ChartNote, NearMiss
from dosewright.store.models.order import OrderFile, OrderRow
from dosewright.store.models.owing import OwingRow
from dosewright.store.models.pack_code import TaughtCodeRow
from dosewright.store.models.person import HomeRow, PersonRow, TimetableRow
from dosewright.store.models.pharmacy import Pharmacy, RuleBook
from dosewright.store.models.printer import PrinterRow
from dosewright.store.models.stock import StockLot, StockMovement
from dosewright.store.models.token import ApiToken, RequestKey
from dosewright.store.models.unused import UnusedOrderRow
from dosewright.store.models.wording import WordingRow

__all__ = [
    "Account",
    "AccountManager",
    "ApiToken",
    "Attempt",
    "CardRow",
    "CardSet",
    "ChangeRow",
    "ChartNote",
    "HomeRow",
    "LedgerEntry",
    "LedgerHead",
    "LongWorkRow",
    "MadePaper",
    "MedicineCodeRow",
    "MedicineRow",
    "NearMiss",
    "OrderAnswer",
    "OrderFile",
    "OrderRow",
    "OwingRow",
    "PersonRow",
    "Pharmacy",
    "PrintedPaper",
    "PrinterRow",
    "RequestKey",
    "ReworkRates",
    "RuleBook",
    "StockLot",
    "StockMovement",
    "TaughtCodeRow",
    "TimetableRow",
    "UnusedOrderRow",
    "VoidedLabel",
    "WordingRow",
    "WorkStepRow",
]
