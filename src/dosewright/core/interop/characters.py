"""Which characters may stand in a name, an id or a direction. Comes in: text. Goes out: the first character that may not, named.

Letters of every script and combining marks may. Refused: controls; invisible characters, and above all those that turn the direction of
writing, since they can make one text look like another (Unicode Standard Annex 9; Unicode Technical Report 36); private and unassigned
characters, which no font draws; U+FFFD, which says that an encoding was lost.
"""

import unicodedata

__all__ = ["find_forbidden", "names_character", "shown", "starts_like_a_formula"]

_BREAKS = "\n\r\t"
_JOINERS = "\u200c\u200d"  # several scripts cannot be spelt without them
_FORBIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
_FORMULA = "=+-@\t\r"  # first characters that a spreadsheet takes as a formula (OWASP, CSV injection)


def find_forbidden(text: str, *, breaks: bool = False) -> str | None:
    """The first character that may not stand there, as `names_character` says it. `breaks`: line breaks and tabs may."""
    if text.isprintable() and "\ufffd" not in text:  # printable: of none of the categories below, by the same tables (str.isprintable)
        return None
    return next((names_character(letter) for letter in text if _is_forbidden(letter, _BREAKS if breaks else "")), None)


def names_character(letter: str) -> str:
    """A character that cannot be shown, named: "U+202E right-to-left override"."""
    return f"U+{ord(letter):04X} {unicodedata.name(letter, 'control character').lower()}"


def shown(text: str, longest: int = 60) -> str:
    """The text as a message may repeat it: no forbidden characters, and not longer than that."""
    safe = text if find_forbidden(text) is None else "".join(letter if find_forbidden(letter) is None else "\ufffd" for letter in text)
    return safe if len(safe) <= longest else f"{safe[:longest]}…"


def starts_like_a_formula(text: str) -> bool:
    """Whether a spreadsheet that opens an export would run the text instead of showing it."""
    return text[:1] in _FORMULA if text else False


def _is_forbidden(letter: str, allowed: str) -> bool:
    if letter in allowed or letter in _JOINERS:
        return False
    return letter == "\ufffd" or unicodedata.category(letter) in _FORBIDDEN
