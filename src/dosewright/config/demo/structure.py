"""A line as FHIR R4 `Dosage`, as a prescribing system would send it beside its text. Lines in words of their own stay words.

Source: HL7 FHIR R4 (4.0.1), datatypes Dosage and Timing. Amounts are exact decimals.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from dosewright.config.demo.regimen import DEFAULT_TIMES, Line
from dosewright.core.interop.json_text import Writable
from dosewright.core.medicines.form_unit import unit_of_form

__all__ = ["structure"]

_WHEN = ("MORN", "NOON", "EVE", "HS")
Json = dict[str, Writable]


def structure(line: Line, text: str, start: date) -> list[Writable]:
    """One `Dosage` for each amount that differs, the text in each. A line in words of its own has its text alone."""
    if not line.amounts:
        return [_with_text(text, {"asNeededBoolean": True} if line.as_needed else {})]
    return [_with_text(text, _dosage(line, amount, times, start)) for amount, times in _by_amount(line)]


def _with_text(text: str, rest: Json) -> Json:
    return {"sequence": 1, "text": text, **rest}


def _by_amount(line: Line) -> Iterator[tuple[Fraction, tuple[int, ...]]]:
    for amount in dict.fromkeys(line.amounts[time] for time in line.times):
        yield amount, tuple(time for time in line.times if line.amounts[time] == amount)


def _dosage(line: Line, amount: Fraction, times: tuple[int, ...], start: date) -> Json:
    quantity: Json = {"value": _decimal(amount), "unit": _unit(line)}
    return {"timing": {"repeat": _repeat(line, times, start)}, "doseAndRate": [{"doseQuantity": quantity}]}


def _unit(line: Line) -> str | None:
    """What is counted: insulin in units, everything else in what its form is counted in."""
    return "unit" if line.product.kind == "insulin" else unit_of_form(line.product.form)


def _repeat(line: Line, times: tuple[int, ...], start: date) -> Json:
    bounds: Json = {"start": start.isoformat()}
    if line.days:
        bounds["end"] = (start + timedelta(days=line.days - 1)).isoformat()
    repeat: Json = {"boundsPeriod": bounds, "frequency": len(times), **_period(line.every)}
    if times == line.times and times == DEFAULT_TIMES[len(times)] and len(times) > 1:
        return repeat  # how often is said, when is not: the home's own times settle it
    return {**repeat, "when": [_WHEN[time] for time in times]}


def _period(every: str) -> Json:
    if every == "day":
        return {"period": 1, "periodUnit": "d"}
    if every.endswith("-days"):
        return {"period": int(every.removesuffix("-days")), "periodUnit": "d"}
    return {"period": 1, "periodUnit": "wk", "dayOfWeek": [every[:3]]}


def _decimal(amount: Fraction) -> Decimal:
    return Decimal(amount.numerator) / Decimal(amount.denominator)
