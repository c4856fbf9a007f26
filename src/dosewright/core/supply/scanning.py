"""Is this the product the card asks for? What a scan named against what is to be placed (R7).

Source: scan before place, blocked on mismatch (published dispensing-log reports name skipped scans and ignored warnings as a cause).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import Gtin, Lot, MedicineCode

__all__ = ["Proof", "check_proof"]


_LONGEST_LOT = 20  # characters, GS1 General Specifications, AI (10)


@dataclass(frozen=True, slots=True)
class Proof:
    """How somebody knows what is in their hand. `gtin` and `named` (the medicine that code belongs to) come from a scan; `reason` stands
    where there was none. `scanned_lot` and `scanned_expiry` are what the code itself said, if it did."""

    gtin: Gtin | None = None
    named: MedicineCode | None = None
    scanned_lot: Lot | None = None
    scanned_expiry: date | None = None
    reason: str = ""


def check_proof(proof: Proof, wanted: MedicineCode, lot: Lot, expiry: date) -> tuple[Finding, ...]:
    """Everything that keeps units in the hand from counting as the wanted medicine of that lot. No scan needs a reason (R7)."""
    return tuple(_check(proof, wanted, lot, expiry))


def _check(proof: Proof, wanted: MedicineCode, lot: Lot, expiry: date) -> Iterator[Finding]:
    if proof.gtin is None and not proof.reason.strip():
        yield _stop("supply.no-scan", wanted)
    if proof.gtin is not None and proof.named is None:
        yield _stop("supply.unknown-code", wanted, gtin=proof.gtin)
    elif proof.named is not None and proof.named != wanted:
        yield _stop("supply.wrong-product", wanted, gtin=proof.gtin, scanned=proof.named)
    if not lot.strip():
        yield _stop("supply.no-lot", wanted)
    if len(lot) > _LONGEST_LOT:
        yield _stop("supply.lot-too-long", wanted, longest=_LONGEST_LOT)
    if proof.scanned_lot is not None and proof.scanned_lot != lot:
        yield _stop("supply.lot-differs", wanted, scanned=proof.scanned_lot, typed=lot)
    if proof.scanned_expiry is not None and proof.scanned_expiry != expiry:
        yield _stop("supply.expiry-differs", wanted, scanned=proof.scanned_expiry, typed=expiry)


def _stop(code: str, wanted: MedicineCode, **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, where={"medicine": wanted}, facts=facts)
