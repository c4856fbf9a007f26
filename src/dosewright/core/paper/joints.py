"""Where a line may not break, and where it had better not: inside amounts in any of the languages; between a name and its strength.

Comes in: composed text. Goes out: the same text with unbreakable spaces inside amounts (`bind`), or an answer for two neighbouring words
(`is_kept`, `is_strength`), which a line holds together only where it has the room. "UN comprimé" at the end of a line whose next one begins
with "et demi" is half of a dose not taken.
"""

import re
from fractions import Fraction
from functools import lru_cache

from dosewright.core.regimen.words.say_plain import PHRASEBOOKS
from dosewright.core.units.amount_words import MEASURED_UNITS
from dosewright.core.units.quantity import Quantity, Unit

__all__ = ["BIND", "bind", "bind_all", "is_kept", "is_strength"]

BIND = "\u00a0"  # a space at which no line may break

_NOUNS = ("tablet", "capsule", "sachet")  # of every gender


def _number_words() -> list[str]:
    """The capital words that stand for whole numbers, in every language: as they are said, so that none is forgotten."""
    amounts = [Quantity(Fraction(count), Unit(noun)) for count in range(1, 21) for noun in _NOUNS]
    said = [book.say_amount(amount, "words") for book in PHRASEBOOKS.values() for amount in amounts]
    return sorted({words.split()[0] for words in said if words and words[0].isalpha()})


_NUMBER = rf"(?:(?<![\w.,])\d[\d.,{BIND}]*[½¼¾]?|[½¼¾]|\b(?:{'|'.join(_number_words())})\b)"
_PART = r"(?:half|third|quarter|fifth|sixth|eighth|tenth)"
_MANY = r"(?:an?|one|two|three|four|five|six|seven|eight|nine|ten)"

_WORD = r"(?<=[^\W\d_])"
# In this order. Amounts up to the word that is counted, if it stands here, in capital words too: "ONE AND A HALF tablets", "A QUARTER of a
# tablet". Then the rest of a noun, a half that follows what it is a half of, and one that does not: "y media cápsula".
_JOINTS = tuple(
    re.compile(pattern)
    for pattern in (
        *(
            rf"{amount}(?: (?=[^\W_]|[%µ]))?"
            for amount in (
                rf"{_NUMBER}(?: (?i:and {_MANY} {_PART}s?)| und eine halbe)?",
                rf"\b(?i:half an?|(?:{_MANY} )?{_PART}s? of an?|{_MANY} {_PART}s?)",
                r"\beine (?:halbe|viertel|dreiviertel)",
                r"\b(?:un quart|trois quarts) de",
                r"\b(?:un cuarto|tres cuartos) de",
                r"\bune?(?= demi-)",
            )
        ),
        rf"{_WORD} (?:(?:de|zu) (?=\d+[ {BIND}]mL)|à (?=(?:café|soupe)\b)|para (?=chupar\b)|(?=mesure\b))",
        rf"{_WORD} et (?=demie?\b)",
        rf"{BIND}[^\W\d_]+ y (?=medi[oa]\b)",
        rf"(?<!\by{BIND})\bmedi[oa] (?=[^\W_])",
    )
)
_MEASURE = "|".join(sorted((re.escape(unit) for unit in MEASURED_UNITS), key=len, reverse=True))
_INITIALS = re.compile(r"(?:[^\W\d_]\.)+")
_CLOSING = ".,:;!?"  # before a number: "marked W 1. 9 tablets" are two things
_LEADING = frozenset({"at", "At", "lot", "Dr"})
_STRENGTH = re.compile(rf"\d[\d.,]*{BIND}?(?:{_MEASURE})(?![^\W_])")


@lru_cache(maxsize=1024)
def bind(text: str) -> str:
    """The text with unbreakable spaces inside every amount, and between it and what it counts."""
    for joint in _JOINTS:
        text = joint.sub(lambda found: bind_all(found.group()), text)
    return text


def bind_all(text: str) -> str:
    """The text as one word: for what is nothing but an amount."""
    return text.replace(" ", BIND)


def is_strength(word: str) -> bool:
    """Whether the word is a measured amount, as a medicine's strength is: "500 mg"."""
    return _STRENGTH.match(word) is not None


def is_kept(before: str, word: str) -> bool:
    """Whether two neighbours are read together: "metformin 500 mg", "4 February 1939", "room 12", "at most", "lot K2207", "A. Nwosu"."""
    if word[:1].isdigit():
        return bool(before) and before[-1] not in _CLOSING
    return (before.isdigit() and word[:1].isalpha()) or before in _LEADING or _INITIALS.fullmatch(before) is not None
