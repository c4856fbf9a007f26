"""Numbers that countries give to packs, and the trade item number that carries each, so that one pack has one number here.

Comes in: the number as printed or scanned. Goes out: digits, or a `Gtin`; ValueError says what is wrong. Sources: NDC, 21 CFR 207.33 and
FDA's notes on ten and eleven digits, the twelve digits of 91 FR 10749 (from 7 March 2033); PZN and PPN, IFA's technical notes (the
check digits); how a PZN and an NDC stand in a trade item number, GS1's national rules (from memory).
"""

import re

from dosewright.core.medicines.gtin import gtin_check_digit
from dosewright.core.units.ids import Gtin

__all__ = ["gtin_of_ndc", "gtin_of_pzn", "ndc11", "ndc12", "parse_ppn", "parse_pzn", "pzn_check_digit"]

_NDC_11: dict[tuple[int, ...], tuple[int, int, int]] = {(4, 4, 2): (5, 4, 2), (5, 3, 2): (5, 4, 2), (5, 4, 1): (5, 4, 2)}
_NDC_12 = (6, 4, 2)
_PPN_PZN = "11"  # the agency's number for a PZN within a PPN
_GERMANY = "04150"  # GS1's prefix for a PZN as a trade item number


def ndc11(text: str) -> str:
    """Ten digits with hyphens → eleven, zeros filled in where that configuration lacks them. Raises ValueError; also without hyphens, for
    ten bare digits have three different meanings."""
    return "".join(part.rjust(wide, "0") for part, wide in zip(_ndc_parts(text), _NDC_11[_widths(text)], strict=True))


def ndc12(text: str) -> str:
    """The same number in the twelve digits that count from 2033 on: labeler 6, product 4, package 2. Raises ValueError."""
    return "".join(part.rjust(wide, "0") for part, wide in zip(_ndc_parts(text), _NDC_12, strict=True))


def gtin_of_ndc(text: str) -> Gtin:
    """The trade item number of the pack itself: 3 and the ten digits, whose hyphens it does not need. Raises ValueError."""
    body = "003" + "".join(_ndc_parts(text))
    return Gtin(body + gtin_check_digit(body))


def _widths(text: str) -> tuple[int, ...]:
    return tuple(len(part) for part in text.strip().split("-"))


def _ndc_parts(text: str) -> list[str]:
    parts = text.strip().split("-")
    if len(parts) == 1:
        raise ValueError(f"write {text} with its hyphens, as the pack has it: ten bare digits have three meanings")
    if _widths(text) not in _NDC_11 or not all(part.isascii() and part.isdigit() for part in parts):
        raise ValueError(f"{text} is no national drug code: 4-4-2, 5-3-2 or 5-4-1 digits are")
    return parts


def pzn_check_digit(digits: str) -> str:
    """The eighth digit that belongs to seven: weights 1 to 7, remainder by 11. Raises ValueError where there is none (remainder 10)."""
    rest = sum(int(digit) * weight for weight, digit in enumerate(digits, start=1)) % 11
    if rest == 10:
        raise ValueError(f"no PZN begins with {digits}: its check digit would be 10")
    return str(rest)


def parse_pzn(text: str) -> str:
    """ "PZN - 04877800" or "-04877800", as printed or as Code 39 says it → eight digits. Raises ValueError."""
    found = re.fullmatch(r"(?:PZN)?\s*-?\s*([0-9]{7,8})", text.strip())
    if not found:
        raise ValueError(f"{text} is no PZN: seven or eight digits after a hyphen are")
    digits = found[1].rjust(8, "0")
    if pzn_check_digit(digits[:7]) != digits[7]:
        raise ValueError(f"the check digit of PZN {digits} is wrong: it must be {pzn_check_digit(digits[:7])}")
    return digits


def parse_ppn(text: str) -> str:
    """A product number that carries a PZN, "110375286414" → the PZN. Raises ValueError for another agency's, or wrong check digits."""
    if not re.fullmatch(r"[0-9A-Z]{12}", text) or not text.startswith(_PPN_PZN):
        raise ValueError(f"{text} is no product number that carries a PZN: 11, eight digits and two check digits are")
    check = sum(ord(sign) * weight for weight, sign in enumerate(text[:-2], start=2)) % 97
    if f"{check:02}" != text[-2:]:
        raise ValueError(f"the check digits of {text} are wrong: they must be {check:02}")
    return parse_pzn(text[2:10])


def gtin_of_pzn(text: str) -> Gtin:
    """The trade item number under which the same pack is scanned where its code is GS1's. Raises ValueError."""
    body = _GERMANY + parse_pzn(text)
    return Gtin(body + gtin_check_digit(body))
