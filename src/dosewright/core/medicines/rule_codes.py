"""The codes of a suitability rule: text such as X, XD, T30 in, what follows from them out. Source: published lists of what not to repack.

X excluded; XD out unless stability data or the maker's advice is on record; T<n> at most n days in a card, from packing; S in a container
of its own; H hazardous to handle; W to be confirmed; ok packable.
"""

import re
from collections.abc import Iterable

__all__ = ["CODES", "HAZARDOUS", "PACKABLE", "known_code", "limit_of"]

PACKABLE, HAZARDOUS = "ok", "H"
CODES = ("X", "XD", "S", HAZARDOUS, "W", PACKABLE)
_LIMIT = re.compile(r"T([1-9]\d{0,2})")


def known_code(code: str) -> bool:
    """Whether it is one of the codes, or T with days such as T30."""
    return code in CODES or bool(_LIMIT.fullmatch(code))


def limit_of(codes: Iterable[str]) -> int | None:
    """The shortest time limit among them in days; None where there is none."""
    return min((int(found[1]) for code in codes if (found := _LIMIT.fullmatch(code))), default=None)
