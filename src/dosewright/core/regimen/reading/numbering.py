"""Numbers in every spelling become one exact value: 1, 0.5, ½, 1/2, 1½, 1 1/2, one and a half, three quarters.

Comes in: pieces and a lexicon whose terminals NUMW (whole numbers) and FRACW (parts) hold the number words. Goes out: value, end, and
what must be asked about the spelling. Spellings that people misread are questions: 1.0, .5, 1,5 where the comma is no decimal mark, 11/2.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.regimen.reading.lexicon import Lexicon
from dosewright.core.regimen.reading.scanning import Piece

__all__ = ["Spelled", "spelled_number"]

_GLYPHS = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}
_PARTS = (2, 4)  # halves and quarters: a third of a tablet cannot be cut, and FHIR R4 cannot hold it


@dataclass(frozen=True, slots=True)
class Spelled:
    """A number that ends before piece `end`. `ask` is the code of the question its spelling raises, or ""."""

    value: Fraction
    end: int
    ask: str = ""
    words: bool = False


def spelled_number(pieces: Sequence[Piece], norms: Sequence[str], start: int, lexicon: Lexicon, decimal: str) -> Spelled | None:
    """The longest number from piece `start`, or None. `decimal` is the language's decimal mark."""
    if pieces[start].kind == "number":
        return _digits(pieces, norms, start, lexicon, decimal)
    return _words(pieces, norms, start, lexicon)


def _digits(pieces: Sequence[Piece], norms: Sequence[str], start: int, lexicon: Lexicon, decimal: str) -> Spelled | None:
    if ratio := _ratio(pieces, start):
        return ratio
    value, ask = _plain(pieces[start].text, decimal)
    if value is None:
        return None
    whole = value.denominator == 1 and not ask and pieces[start].text.isdigit()
    if whole and (mixed := _mixed(pieces, norms, start + 1, value, lexicon)):
        return mixed
    return Spelled(value, start + 1, ask)


def _ratio(pieces: Sequence[Piece], start: int) -> Spelled | None:
    """1/2, and 11/2 as a question: it may be eleven halves or one and a half run together."""
    if not (_is_whole(pieces, start) and _mark(pieces, start + 1, "/") and _is_whole(pieces, start + 2) and pieces[start + 1].glued):
        return None
    above, below = int(pieces[start].text), int(pieces[start + 2].text)
    if below in (0, 24):
        return None  # "max 8/24" is 8 in 24 hours
    return Spelled(Fraction(above, below), start + 3, "" if above < below and below in _PARTS else "read.odd-fraction")


def _plain(text: str, decimal: str) -> tuple[Fraction | None, str]:
    text = "".join(text.split())  # "1 000": a blank between thousands
    glyph = _GLYPHS.get(text[-1])
    digits = text[:-1] if glyph is not None else text
    if glyph is not None:
        return (glyph + int(digits or 0), "") if digits.isdigit() or not digits else (None, "")
    if digits[0] in ".,":
        return Fraction("0." + digits[1:]), "read.naked-decimal"
    if digits.isdigit():
        return Fraction(int(digits)), "" if digits == str(int(digits)) else "read.leading-zero"
    return _decimal(digits, decimal)


def _decimal(digits: str, decimal: str) -> tuple[Fraction | None, str]:
    if ("," in digits and "." in digits) or digits.count(",") + digits.count(".") > 1:
        return _thousands(digits, decimal)
    if (decimal == "." and "," in digits) or (decimal == "," and "." in digits and len(digits.rsplit(".", 1)[1]) == 3):
        return _thousands(digits, decimal)
    value = Fraction(digits.replace(",", "."))
    if decimal == "," and "," in digits and len(digits.split(",")[1]) == 3 and digits[0] != "0":
        return value, "read.thousands"  # "1,125 mg" is more than a thousand in Mexico
    return value, "read.trailing-zero" if digits.endswith("0") else ""


def _thousands(digits: str, decimal: str) -> tuple[Fraction | None, str]:
    group = "," if decimal == "." else "."
    head, *groups = digits.split(group)
    if head == "0" and group == "." and len(groups) == 1:
        return Fraction(digits), "read.trailing-zero" if digits.endswith("0") else ""  # "0.125 mg" where the comma is the decimal mark
    if all(part.isdigit() and len(part) == 3 for part in groups) and head.isdigit() and 1 <= len(head) <= 3 and head != "0":
        return Fraction(int(digits.replace(group, ""))), "" if group == "," else "read.thousands"
    if digits.replace(",", "", 1).isdigit():
        return Fraction(digits.replace(",", ".")), "read.decimal-comma"
    return None, ""


def _mixed(pieces: Sequence[Piece], norms: Sequence[str], at: int, whole: Fraction, lexicon: Lexicon) -> Spelled | None:
    """What follows a whole number and belongs to it: ½, 1/2, "and a half"."""
    if at < len(pieces) and pieces[at].text in _GLYPHS:
        return Spelled(whole + _GLYPHS[pieces[at].text], at + 1)
    if (part := _part_after(pieces, norms, at, lexicon)) is not None and not pieces[at].glued:
        return Spelled(whole + part.value, part.end, part.ask)
    joined, senses = lexicon.longest(norms, at)
    if joined < len(pieces) and pieces[joined].norm == "-" and pieces[joined].glued:
        joined += 1  # "one-and-a-half"
    if any(sense.terminal == "AND" for sense in senses) and joined < len(pieces):
        part = _part_after(pieces, norms, joined, lexicon) or _fraction_word(norms, joined, lexicon)
        if part is not None and part.value < 1:
            return Spelled(whole + part.value, part.end, part.ask, words=part.words)
    return None


def _part_after(pieces: Sequence[Piece], norms: Sequence[str], at: int, lexicon: Lexicon) -> Spelled | None:
    part = _ratio(pieces, at)
    if part is None and at < len(pieces) and pieces[at].text in _GLYPHS:
        part = Spelled(_GLYPHS[pieces[at].text], at + 1)
    return part if part is not None and part.value < 1 and not part.ask else None


def _words(pieces: Sequence[Piece], norms: Sequence[str], start: int, lexicon: Lexicon) -> Spelled | None:
    if part := _fraction_word(norms, start, lexicon):
        return part
    end, senses = lexicon.longest(norms, start)
    named = next((sense for sense in senses if sense.terminal == "NUMW"), None)
    if named is None:
        return None
    whole = Fraction(str(named.value))
    at = end + 1 if end < len(pieces) and pieces[end].norm == "-" and pieces[end].glued else end
    mixed = _mixed(pieces, norms, at, whole, lexicon) if at < len(pieces) else None
    return Spelled(mixed.value, mixed.end, mixed.ask, words=True) if mixed else Spelled(whole, end, words=True)


def _fraction_word(norms: Sequence[str], at: int, lexicon: Lexicon) -> Spelled | None:
    end, senses = lexicon.longest(norms, at)
    named = next((sense for sense in senses if sense.terminal == "FRACW"), None)
    return Spelled(Fraction(str(named.value)), end, words=True) if named else None


def _is_whole(pieces: Sequence[Piece], at: int) -> bool:
    return at < len(pieces) and pieces[at].kind == "number" and pieces[at].text.isdigit()


def _mark(pieces: Sequence[Piece], at: int, mark: str) -> bool:
    return at < len(pieces) and pieces[at].norm == mark
