"""GS1 element strings, as a scanner types them, to product, lot, expiry and serial.

Comes in: the text of one scan, with or without a symbology identifier (]d2, ]C1, ]Q3, …), GS (0x1D) after each field of variable length;
or a bare trade item number. Goes out: `Scan`, with findings for all that is wrong or doubtful. Source: GS1 General Specifications, 3, 7.
"""

import calendar
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from dosewright.core.medicines.gtin import GTIN_LENGTHS, parse_gtin
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import Gtin, Lot

__all__ = ["GS", "Scan", "parse_date", "parse_element_string"]

GS = "\x1d"
_PREFIXES = ("]d2", "]C1", "]Q3", "]e0", "]J1")  # GS1 DataMatrix, GS1-128, GS1 QR, GS1 DataBar, GS1 DotCode
_PLAIN_PREFIXES = ("]E0", "]E4", "]d1", "]C0", "]Q1")  # the same symbols without GS1 data: EAN/UPC and others

_FIXED = {"00": 18, "01": 14, "02": 14, "11": 6, "12": 6, "13": 6, "15": 6, "16": 6, "17": 6, "20": 2}
_VARIABLE = {"10": 20, "21": 20, "22": 20, "30": 8, "37": 8, "240": 30, "241": 30, "250": 30, "400": 30} | {
    str(reimbursement): 20 for reimbursement in range(710, 718)
}
_DATES = frozenset({"11", "12", "13", "15", "16", "17"})


@dataclass(frozen=True, slots=True)
class Scan:
    """What one scan says. Fields that it does not say are None. `elements` are all of them as (identifier, text), in order."""

    gtin: Gtin | None = None
    lot: Lot | None = None
    expiry: date | None = None
    serial: str | None = None
    elements: tuple[tuple[str, str], ...] = ()
    findings: tuple[Finding, ...] = ()


def parse_element_string(text: str, reference_year: int) -> Scan:
    """Read one scan. `reference_year` settles the century of dates. A field twice, unknown, cut short or impossible is a `stop`; a lot or a
    serial that may have swallowed the next field, because the GS after it is missing, is a `decide`; such a lot is not given."""
    body = text.strip(" \r\n\t")
    plain = next((prefix for prefix in _PLAIN_PREFIXES if body.startswith(prefix)), "")
    prefix = plain or next((prefix for prefix in _PREFIXES if body.startswith(prefix)), "")
    body = body.removeprefix(prefix)
    if plain or (not prefix and len(body) in GTIN_LENGTHS and body.isascii() and body.isdigit()):
        return _bare_number(body)
    elements, findings = _split(body.removeprefix(GS))
    return _interpret(tuple(elements), tuple(findings), reference_year)


def _bare_number(body: str) -> Scan:
    try:
        return Scan(gtin=parse_gtin(body))
    except ValueError:
        return Scan(findings=(_stop("interop.gs1-bad-number", number=body),))


def _split(body: str) -> tuple[list[tuple[str, str]], list[Finding]]:
    """Cut into elements, as far as it goes; what cannot be cut is a finding and ends it."""
    elements: list[tuple[str, str]] = []
    while body:
        identifier = next((body[:length] for length in (2, 3) if body[:length] in _FIXED or body[:length] in _VARIABLE), None)
        if identifier is None:
            return elements, [_stop("interop.gs1-unknown-field", rest=body[:4])]
        rest = body[len(identifier) :]
        value = rest[: _FIXED[identifier]] if identifier in _FIXED else rest.split(GS, 1)[0]
        if fault := _fault(identifier, value):
            return elements, [fault]
        elements.append((identifier, value))
        body = rest[len(value) :].removeprefix(GS)
    return elements, [] if elements else [_stop("interop.gs1-nothing")]


def _fault(identifier: str, value: str) -> Finding | None:
    if identifier in _FIXED:
        wrong = len(value) < _FIXED[identifier] or not (value.isascii() and value.isdigit())
        return _stop("interop.gs1-bad-field", field=identifier, value=value.replace(GS, " ")) if wrong else None
    wrong = not value or len(value) > _VARIABLE[identifier] or not (value.isascii() and value.isprintable())
    return _stop("interop.gs1-bad-field", field=identifier, value=value) if wrong else None


def _interpret(elements: tuple[tuple[str, str], ...], findings: tuple[Finding, ...], reference_year: int) -> Scan:
    said = dict(elements)
    names = [name for name, _ in elements]
    twice = tuple(_stop("interop.gs1-twice", field=name) for name in sorted(said) if names.count(name) > 1)
    scan = Scan(serial=said.get("21"), lot=Lot(said["10"]) if "10" in said else None, elements=elements)
    swallowed = tuple(_swallowed(elements))
    if any(finding.facts["field"] == "10" for finding in swallowed):
        scan = replace(scan, lot=None)  # somebody must read it from the bottle
    scan = replace(scan, findings=findings + twice + swallowed)
    return _with_expiry(_with_gtin(scan, said.get("01")), said.get("17"), reference_year)


def _with_gtin(scan: Scan, digits: str | None) -> Scan:
    try:
        return replace(scan, gtin=parse_gtin(digits)) if digits else scan
    except ValueError:
        return replace(scan, findings=(*scan.findings, _stop("interop.gs1-bad-number", number=digits)))


def _with_expiry(scan: Scan, digits: str | None, reference_year: int) -> Scan:
    try:
        return replace(scan, expiry=parse_date(digits, reference_year)) if digits else scan
    except ValueError:
        return replace(scan, findings=(*scan.findings, _stop("interop.gs1-bad-date", value=digits)))


def parse_date(text: str, reference_year: int) -> date:
    """A YYMMDD date. Day 00 is the month's last day; the century is the one that lies nearest to `reference_year`, from 49 years before it
    to 50 after. Raises ValueError for a month or day that does not exist. Source: GS1 General Specifications 3.4 and 7.12."""
    year, month, day = _century(int(text[:2]), reference_year), int(text[2:4]), int(text[4:])
    if not 1 <= month <= 12:
        raise ValueError(f"there is no month {month}")
    return date(year, month, day or calendar.monthrange(year, month)[1])


def _century(two_digits: int, reference_year: int) -> int:
    difference = two_digits - reference_year % 100
    base = reference_year - reference_year % 100
    if difference >= 51:
        return base - 100 + two_digits
    return base + 100 + two_digits if difference <= -50 else base + two_digits


def _swallowed(elements: tuple[tuple[str, str], ...]) -> Iterator[Finding]:
    """Fields of variable length whose end reads as a field of its own that the scan lacks: the GS between them may be missing."""
    said = {name for name, _ in elements}
    for name, value in elements:
        if name in _VARIABLE and any(_reads_as_missing(value[cut:], said) for cut in range(1, len(value) - 1)):
            yield Finding("interop.gs1-separator-missing", Severity.DECIDE, facts={"field": name, "value": value})


def _reads_as_missing(tail: str, said: set[str]) -> bool:
    elements, findings = _split(tail)
    wanted = {"01", "10", "17", "21"} - said
    return not findings and {name for name, _ in elements} <= wanted


def _stop(code: str, **facts: Fact) -> Finding:
    return Finding(code, Severity.STOP, facts=facts)
