"""What a field of a request may hold: text that can be kept, exact amounts. Anything else is told with the field's name."""

from datetime import date
from fractions import Fraction
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, StringConstraints, WithJsonSchema

from dosewright.api.answer import Refused
from dosewright.core.interop.characters import find_forbidden
from dosewright.core.interop.gs1 import Scan
from dosewright.core.interop.pack_code import parse_pack_code
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.finding import blocks
from dosewright.core.units.quantity import parse_amount
from dosewright.store.catalogue import find_by_gtin

__all__ = ["Amount", "Code", "Reason", "Scanned", "proof_of"]


def _plain(text: str) -> str:
    if found := find_forbidden(text, breaks=True):
        raise ValueError(f"may not hold {found}")
    return text


def _amount(value: object) -> Fraction:
    if not isinstance(value, str) or len(value) > 20:
        raise ValueError('an amount is text like "2", "0.5" or "1/3"')
    return parse_amount(value)


Code = Annotated[str, StringConstraints(min_length=1, max_length=200), AfterValidator(_plain)]
Reason = Annotated[str, StringConstraints(max_length=1000), AfterValidator(_plain)]
Scanned = Annotated[str, StringConstraints(max_length=300)]  # a separator of its fields is a control character
Amount = Annotated[
    Fraction,
    BeforeValidator(_amount),
    WithJsonSchema({"type": "string", "pattern": r"^[0-9]{1,6}(\.[0-9]{1,6}|/[1-9][0-9]{0,2})?$", "examples": ["2", "0.5", "1/3"]}),
]


def proof_of(scan: str, reason: str, today: date) -> Proof:
    """How the program knows the product: the code that was scanned, or the reason why there is none (R7). Raises Refused for a code that
    cannot be read."""
    read = parse_pack_code(scan, today.year) if scan.strip() else Scan()
    if blocks(read.findings):
        raise Refused(422, read.findings)
    return Proof(read.gtin, find_by_gtin(read.gtin), read.lot, read.expiry, reason)
