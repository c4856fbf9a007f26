"""May these units come into stock, or leave it for waste?"""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import Batch
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["check_lot_in_use", "check_receipt", "check_spoiling"]


def check_receipt(batch: Batch, known: Batch, amount: Fraction, today: date) -> tuple[Finding, ...]:
    """Find an amount of nothing, part units, a lot that has expired, and an expiry other than the lot is known with (`known`)."""
    return tuple(_check(batch, known, amount, today))


def _check(batch: Batch, known: Batch, amount: Fraction, today: date) -> Iterator[Finding]:
    if amount <= 0 or amount.denominator != 1:
        yield _stop("supply.no-amount", batch)
    if batch.expiry < today:
        yield _stop("supply.expired", batch, expiry=batch.expiry)
    if known.expiry != batch.expiry:
        yield _stop("supply.lot-expiry-clash", batch, known=known.expiry, given=batch.expiry)


def _stop(code: str, batch: Batch, **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where={"medicine": batch.medicine, "lot": batch.lot}, facts=facts)


def check_lot_in_use(known: Stock) -> tuple[Finding, ...]:
    """A stop for a lot that is recalled: nothing of it comes in, and nothing of it is placed."""
    return (_stop("supply.lot-recalled", known.batch, reason=known.recalled),) if known.recalled else ()


def check_spoiling(stock: Stock, amount: Fraction) -> tuple[Finding, ...]:
    """Find an amount of nothing, and more than there is."""
    batch = stock.batch
    if amount <= 0:
        return (_stop("supply.no-amount", batch),)
    return (_stop("supply.not-enough", batch, needed=amount, stock=stock.amount),) if amount > stock.amount else ()
