"""Which lots to take: earliest expiry first, and none that ends before the last day its units are to be taken.

Source: first expired, first out (common practice, no source); R5 for the last day.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from dosewright.core.supply.movement import Batch

__all__ = ["Stock", "Take", "allocate"]


@dataclass(frozen=True, slots=True)
class Stock:
    """How much of one lot is in stock."""

    batch: Batch
    amount: Fraction


@dataclass(frozen=True, slots=True)
class Take:
    """So much to fetch of one lot."""

    batch: Batch
    amount: Fraction


def allocate(stocks: Iterable[Stock], need: Fraction, last_day: date) -> tuple[tuple[Take, ...], Fraction]:
    """The lots to take for `need`, earliest expiry first, ties by lot; and what is owing when they do not suffice.

    A lot counts only if it may still be used on `last_day`.
    """
    takes: list[Take] = []
    owing = need
    for stock in sorted(stocks, key=lambda held: held.batch):
        take = min(stock.amount, owing)
        if take > 0 and stock.batch.expiry >= last_day:
            takes.append(Take(stock.batch, take))
            owing -= take
    return tuple(takes), owing
