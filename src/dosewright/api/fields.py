"""What a field of a request may hold: text that can be kept, exact amounts. Anything else is told with the field's name."""

from datetime import date, datetime
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

__all__ = ["Amount", "Code", "Day", "LongText", "Name", "OnADay", "Reason", "Scanned", "proof_of"]


_FIRST, _LAST = date(1900, 1, 1), date(2199, 12, 31)  # our own measure, no source


def _plain(text: str) -> str:
    if found := find_forbidden(text, breaks=True):
        raise ValueError(f"may not hold {found}")
    return text


def _not_blank(text: str) -> str:
    if not text.strip():
        raise ValueError("may not be blank")
    return text


def _day(day: date) -> date:
    """Days are reckoned with: a cycle from the calendar's last day on would end nowhere."""
    if not _FIRST <= day <= _LAST:
        raise ValueError(f"a day lies from {_FIRST} to {_LAST}")
    return day


def _on_a_day(at: datetime) -> datetime:
    _day(at.date())
    return at


def _amount(value: object) -> Fraction:
    if not isinstance(value, str) or len(value) > 20:
        raise ValueError('an amount is text like "2", "0.5" or "1/3"')
    return parse_amount(value)


Code = Annotated[str, StringConstraints(min_length=1, max_length=200), AfterValidator(_plain)]
Name = Annotated[Code, AfterValidator(_not_blank)]
Day = Annotated[date, AfterValidator(_day)]
OnADay = Annotated[datetime, AfterValidator(_on_a_day)]
Reason = Annotated[str, StringConstraints(max_length=1000), AfterValidator(_plain)]
LongText = Annotated[str, StringConstraints(max_length=40_000), AfterValidator(_plain)]  # a whole file of figures
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
