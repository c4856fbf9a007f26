"""Numbers that countries give to packs, and the trade item number that carries each, so that one pack has one number here.

Comes in: the number as printed or scanned. Goes out: digits, or a `Gtin`; ValueError says what is wrong. Sources: NDC, 21 CFR 207.33 and
FDA's notes on ten and eleven digits, the twelve digits of 91 FR 10749 (from 7 March 2033); PZN and PPN, IFA's technical notes (the
check digits); how a PZN and an NDC stand in a trade item number, GS1's national rules (from memory). DIN (Canada) and PIP (United Kingdom)
have no check digit that is published; identifiers of dm+d are SNOMED CT's, whose last digit is by Verhoeff's method (SNOMED CT's own guide,
from memory).
"""

import re

from dosewright.core.medicines.gtin import gtin_check_digit
from dosewright.core.units.ids import Gtin

__all__ = [
    "gtin_of_ndc",
    "gtin_of_pzn",
    "national_words",
    "ndc10",
    "ndc11",
    "ndc12",
    "parse_din",
    "parse_pip",
    "parse_ppn",
    "parse_pzn",
    "parse_sctid",
    "pzn_check_digit",
    "sctid_check_digit",
]

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


def ndc10(text: str) -> str:
    """An NDC with the hyphens of its pack. Eleven digits, 5-4-2 with or without hyphens, are ten with one part filled by a zero: which part
    is known where only one begins so. Raises ValueError where several parts do, or none, and for ten bare digits."""
    bare = text.strip()
    parts = (bare[:5], bare[5:9], bare[9:]) if re.fullmatch(r"[0-9]{11}", bare) else tuple(bare.split("-"))
    if tuple(map(len, parts)) != _NDC_11[4, 4, 2]:
        return "-".join(_ndc_parts(bare))
    filled = [at for at, part in enumerate(parts) if part.startswith("0")]
    if len(filled) != 1:
        raise ValueError(f"{text} may be {len(filled)} different packs: write it with the hyphens that the pack has")
    return "-".join(_ndc_parts("-".join(part.removeprefix("0") if at == filled[0] else part for at, part in enumerate(parts))))


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


def parse_din(text: str) -> str:
    """A drug identification number, "02241234": eight digits whose zeros in front count. Raises ValueError."""
    if not re.fullmatch(r"[0-9]{8}", text):
        raise ValueError(f"{text} is no DIN: eight digits are")
    return text


def parse_pip(text: str) -> str:
    """A PIP code, "1234567" or as printed "123-4567": seven digits. Raises ValueError."""
    found = re.fullmatch(r"([0-9]{3})-?([0-9]{4})", text)
    if not found:
        raise ValueError(f"{text} is no PIP code: seven digits are")
    return found[1] + found[2]


def parse_sctid(text: str) -> str:
    """An identifier of SNOMED CT, as dm+d's are: 6 to 18 digits, no zero in front, of a concept, the check digit right. Raises
    ValueError."""
    if not re.fullmatch(r"[1-9][0-9]{5,17}", text) or text[-3:-1] not in _CONCEPTS:
        raise ValueError(f"{text} is no identifier of a product in SNOMED CT: 6 to 18 digits are, of a concept")
    if sctid_check_digit(text[:-1]) != text[-1]:
        raise ValueError(f"the check digit of {text} is wrong: it must be {sctid_check_digit(text[:-1])}")
    return text


def sctid_check_digit(digits: str) -> str:
    """The last digit that belongs to the digits before it, by Verhoeff's method: the dihedral group of ten elements."""
    check = 0
    for place, digit in enumerate(reversed(digits), start=1):
        check = _times(check, _moved(int(digit), place % 8))
    return str(_INVERSE[check])


_CONCEPTS = ("00", "10")  # the international edition's, an extension's: descriptions and relationships are no products
_INVERSE = (0, 4, 3, 2, 1, 5, 6, 7, 8, 9)
_MOVED = (1, 5, 7, 6, 2, 8, 3, 0, 9, 4)  # Verhoeff's permutation, applied once for each place


def _times(one: int, other: int) -> int:
    """The product of two elements: turns are 0 to 4, a turn with a flip 5 to 9."""
    turn, flip = other % 5, other >= 5
    if one < 5:
        return (one + turn) % 5 + (5 if flip else 0)
    return (one - 5 - turn) % 5 + (0 if flip else 5)


def _moved(digit: int, often: int) -> int:
    for _ in range(often):
        digit = _MOVED[digit]
    return digit


def national_words(code: str) -> str:
    """What a pack's number is called in its country: "PZN 04877800", "NDC digits 1234567890"; "" where it says nothing of that."""
    if code.startswith(_GERMANY) and len(code) == 14:
        return f"PZN {code[-9:-1]}"
    return f"NDC digits {code[3:13]}" if code.startswith("003") and len(code) == 14 else ""
