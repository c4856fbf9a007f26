"""Card numbers: opaque, always the same for the same card, with a check digit that finds every mistyped digit and every swapped pair.

Comes in: what makes the card this card, and the pharmacy's salt. Goes out: fifteen digits that say nothing about a person.
Check digit: H. M. Damm, Total anti-symmetrische Quasigruppen, 2004 (from memory; the property is tested over every pair of digits).
"""

import hashlib

from dosewright.core.units.ids import CardNumber

__all__ = ["check_digit", "format_card_number", "make_card_number", "right_card_number"]

_DIGITS = 14
_QUASIGROUP = (
    "0317598642",
    "7092154863",
    "4206871359",
    "1750983426",
    "6123045978",
    "3674209581",
    "5869720134",
    "8945362017",
    "9438617205",
    "2581436790",
)


def make_card_number(salt: str, *parts: str) -> CardNumber:
    """The number of the card that the parts describe. Without the salt nobody can tell from the number what the parts were."""
    said = "\x1f".join((salt, *parts)).encode()
    digits = str(int.from_bytes(hashlib.sha256(said).digest(), "big") % 10**_DIGITS).rjust(_DIGITS, "0")
    return CardNumber(digits + check_digit(digits))


def check_digit(digits: str) -> str:
    """The digit to put behind the digits."""
    state = "0"
    for digit in digits:
        state = _QUASIGROUP[int(state)][int(digit)]
    return state


def right_card_number(text: str) -> bool:
    """Whether the text is fifteen digits of which the last is the right check digit."""
    return len(text) == _DIGITS + 1 and text.isascii() and text.isdigit() and check_digit(text) == "0"


def format_card_number(number: CardNumber) -> str:
    """As people read it: three groups of five."""
    return " ".join(number[at : at + 5] for at in range(0, len(number), 5))
