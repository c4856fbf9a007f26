"""Which lots to take: earliest expiry first, and none that ends before the last day its units are to be taken.

Source: first expired, first out (common practice, no source); R5 for the last day.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from dosewright.core.supply.movement import Batch
from dosewright.core.units.ids import MedicineCode

__all__ = ["Stock", "Take", "allocate", "expiries_of_next"]


@dataclass(frozen=True, slots=True)
class Stock:
    """How much of one lot is in stock. `recalled`: why nothing of it may be used, "" where it may."""

    batch: Batch
    amount: Fraction
    recalled: str = ""


@dataclass(frozen=True, slots=True)
class Take:
    """So much to fetch of one lot."""

    batch: Batch
    amount: Fraction


def allocate(stocks: Iterable[Stock], need: Fraction, last_day: date) -> tuple[tuple[Take, ...], Fraction]:
    """The lots to take for `need`, earliest expiry first, ties by lot; and what is owing when they do not suffice.

    A lot counts only if it may still be used on `last_day`, and is not recalled.
    """
    takes: list[Take] = []
    owing = need
    for stock in sorted(stocks, key=lambda held: held.batch):
        take = min(stock.amount, owing)
        if take > 0 and stock.batch.expiry >= last_day and not stock.recalled:
            takes.append(Take(stock.batch, take))
            owing -= take
    return tuple(takes), owing


def expiries_of_next(stocks: Iterable[Stock], last_day: date) -> dict[MedicineCode, date]:
    """For each medicine the expiry of the lot that `allocate` takes first, whatever the need: cards keep no longer than that.

    A medicine of which no lot in stock may still be used on `last_day` is left out: what will be used has yet to come.
    """
    lasting = (stock.batch for stock in stocks if stock.amount > 0 and stock.batch.expiry >= last_day and not stock.recalled)
    found: dict[MedicineCode, date] = {}
    for batch in lasting:
        found[batch.medicine] = min(batch.expiry, found.get(batch.medicine, batch.expiry))
    return dict(sorted(found.items()))
