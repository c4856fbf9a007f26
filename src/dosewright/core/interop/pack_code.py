"""Whatever a scanner or a hand types from a pack → product, lot, expiry, serial: GS1 element strings, and codes that are not GS1's.

Comes in: the text of one scan. Goes out: `Scan`, as `interop.gs1` gives it; a PZN stands in it as its trade item number. Read beside GS1:
Code 39 with a PZN ("-04877800"), and ISO/IEC 15434 format 06 with a PPN (data identifiers 9N, 1T, D, S; ANSI MH10.8.2).
"""

import re
from collections.abc import Callable
from dataclasses import replace

from dosewright.core.interop.gs1 import GS, Scan, parse_date, parse_element_string
from dosewright.core.interop.typed_code import parse_typed_code
from dosewright.core.medicines.national_codes import gtin_of_pzn, parse_ppn
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import Lot

__all__ = ["parse_pack_code"]

_CODE_39 = re.compile(r"(?:\]A[0-9])?-[0-9]{7,8}")
_FORMAT_06 = re.compile(r"^(?:\](?:d[0-9]|Q[0-9]))?\[\)>\x1e?06\x1d")
_LONGEST = 20  # characters of a lot or a serial


def parse_pack_code(text: str, reference_year: int) -> Scan:
    """Read one scan; `reference_year` settles the century of dates. What is wrong or doubtful is among the findings."""
    bare = text.strip(" \r\n\t\x04")
    if (typed := parse_typed_code(bare)) is not None:
        return typed
    if _CODE_39.fullmatch(bare):
        return _pzn(bare[bare.index("-") :])
    if _FORMAT_06.match(bare):
        return _format_06(_FORMAT_06.sub("", bare).rstrip("\x04\x1e"), reference_year)
    return parse_element_string(text, reference_year)


def _pzn(text: str) -> Scan:
    try:
        return Scan(gtin=gtin_of_pzn(text))
    except ValueError:
        return Scan(findings=(_stop("interop.gs1-bad-number", number=text),))


def _format_06(body: str, reference_year: int) -> Scan:
    """Every field must be one that is known, once; a product number there must be."""
    scan, seen = Scan(), set[str]()
    for field in body.split(GS):
        name = next((known for known in _FIELDS if field.startswith(known)), None)
        if name is None:
            return replace(scan, findings=(*scan.findings, _stop("interop.gs1-unknown-field", rest=field[:4])))
        if name in seen:
            return replace(scan, findings=(*scan.findings, _stop("interop.gs1-twice", field=name)))
        seen.add(name)
        scan = _FIELDS[name](scan, field[len(name) :], reference_year)
    return scan if seen else replace(scan, findings=(_stop("interop.gs1-nothing"),))


def _with_product(scan: Scan, value: str, _: int) -> Scan:
    try:
        return replace(scan, gtin=gtin_of_pzn(parse_ppn(value)))
    except ValueError:
        return replace(scan, findings=(*scan.findings, _stop("interop.gs1-bad-number", number=value)))


def _with_lot(scan: Scan, value: str, _: int) -> Scan:
    return replace(scan, lot=Lot(value)) if _sound(value) else _bad(scan, "1T", value)


def _with_serial(scan: Scan, value: str, _: int) -> Scan:
    return replace(scan, serial=value) if _sound(value) else _bad(scan, "S", value)


def _with_expiry(scan: Scan, value: str, reference_year: int) -> Scan:
    if not re.fullmatch(r"[0-9]{6}", value):
        return _bad(scan, "D", value)
    try:
        return replace(scan, expiry=parse_date(value, reference_year))
    except ValueError:
        return replace(scan, findings=(*scan.findings, _stop("interop.gs1-bad-date", value=value)))


_FIELDS: dict[str, Callable[[Scan, str, int], Scan]] = {"9N": _with_product, "1T": _with_lot, "D": _with_expiry, "S": _with_serial}


def _sound(value: str) -> bool:
    return 0 < len(value) <= _LONGEST and value.isascii() and value.isprintable()


def _bad(scan: Scan, field: str, value: str) -> Scan:
    shown = "".join(sign if sign.isprintable() else " " for sign in value)
    return replace(scan, findings=(*scan.findings, _stop("interop.gs1-bad-field", field=field, value=shown)))


def _stop(code: str, **facts: str) -> Finding:
    return Finding(code, Severity.STOP, facts={**facts})
