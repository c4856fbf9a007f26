"""National codes as a hand types them or a label prints them: a word for which code it is, then its digits → the number a pack has here.

Comes in: "NDC 12345-678-90", "PZN - 04877800", "PPN 110375286414", "DIN 02241234", "PIP 123-4567", "dm+d 138875005"; an NDC is known by
its hyphens too. Goes out: `Scan`, or None for what is no such code. An NDC and a PZN stand for the trade item number of the same pack, so
that typed and scanned they are one; the others have none and keep their word in front. Digits without a word could be several of these
codes, and are never taken for one.
"""

import re
from collections.abc import Callable

from dosewright.core.interop.gs1 import Scan
from dosewright.core.medicines.national_codes import gtin_of_ndc, gtin_of_pzn, ndc10, parse_din, parse_pip, parse_ppn, parse_sctid
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import Gtin

__all__ = ["parse_typed_code"]

_WORD = re.compile(r"(NDC|PZN|PPN|DIN|PIP|DM\+D|SNOMED(?: CT)?|SCTID)[\s:#.-]*(.*)", re.IGNORECASE | re.DOTALL)
_BY_HYPHENS = re.compile(r"[0-9]{4,6}-[0-9]{3,4}-[0-9]{1,3}")

# word → how its digits are read, and the shape that is right
_READ: dict[str, tuple[Callable[[str], str], str]] = {
    "NDC": (lambda text: gtin_of_ndc(ndc10(text)), "4-4-2, 5-3-2 or 5-4-1 digits with the hyphens that the pack has"),
    "PZN": (gtin_of_pzn, "8 digits, the last one its check digit"),
    "PPN": (lambda text: gtin_of_pzn(parse_ppn(text)), "11, the 8 digits of a PZN, 2 check digits"),
    "DIN": (lambda text: f"DIN {parse_din(text)}", "8 digits, zeros in front included"),
    "PIP": (lambda text: f"PIP {parse_pip(text)}", "7 digits"),
    "DM+D": (lambda text: f"SCT {parse_sctid(text)}", "6 to 18 digits, the last one its check digit"),
}


def parse_typed_code(text: str) -> Scan | None:
    """The code as a scan that says nothing but the product; one that is not as it should be is a `stop` that says what would be right."""
    said = text.strip()
    if found := _WORD.fullmatch(said):
        word = found[1].upper()
        return _read(word if word in _READ else "DM+D", found[2].strip())
    return _read("NDC", said) if _BY_HYPHENS.fullmatch(said) else None


def _read(word: str, digits: str) -> Scan:
    read, shape = _READ[word]
    try:
        return Scan(gtin=Gtin(read(digits)))
    except ValueError:
        number = "".join(sign for sign in digits if sign.isprintable())[:40]
        facts = {"kind": "dm+d" if word == "DM+D" else word, "number": number, "shape": shape}
        return Scan(findings=(Finding("interop.national-code-wrong", Severity.STOP, facts=facts),))
