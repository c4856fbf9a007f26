"""A line becomes raw pieces: numbers, words, marks, each with its letters' places; nothing is dropped but blanks.

Comes in: the text as received. Goes out: `Piece`s in order. What is no number, word or known mark is a piece of kind `strange`.
"""

import re
import unicodedata
from dataclasses import dataclass

__all__ = ["Piece", "normal", "scan", "split_words"]

_APOSTROPHES = str.maketrans({"’": "'", "‘": "'", "`": "'", "´": "'"})

# Order matters: the first that matches wins.
_PIECE = re.compile(
    r"""
    (?P<newline>[ \t]*(?:\r\n|\r|\n)\s*)
  | (?P<blank>[ \t\u00a0\u2009\u202f]+)
  | (?P<date>\d{4}-\d{2}-\d{2}(?!\d)|(?<![\d/.])\d{1,2}(?P<sep>[/.])\d{1,2}(?P=sep)(?:\d{4}|[2-5]\d)(?![\d/.]\d|\d)
        |(?<![\d-])\d{1,2}-\d{1,2}-\d{4}(?!\d))
  | (?P<clock>(?<![\d.,/])\d{1,2}:\d{2}(?::00)?(?!\d)|(?<![\d.,/])\d{1,2}\.[0-5]\d(?=\s*(?:am|pm|a\.m|p\.m|uhr|hrs|h)\b)
        |(?<![\d.,/])(?:[01]\d|2[0-3])[0-5]\d(?=\s*(?:h|hrs|hours|hr)\b)|(?<![\d.,/])0\d[0-5]\d(?![\d.,])|(?<![\d.,/])\d{1,2}h[0-5]\d(?!\d)
        |(?<![\d.,/])\d{1,2}\ ?h\ [0-5]\d(?=\s*(?:$|[,;.)](?!\d)|(?:et|puis|y|und)\b)))
  | (?P<number>(?<![\d.,/])[1-9]\d{0,2}(?:(?:[\u00a0\u202f]\d{3})+|(?:\ 000)+)(?![\d.,/])
        |\d+(?:[.,]\d+)*(?:[½¼¾⅓⅔])?|[½¼¾⅓⅔]|(?<![^\s(])[.,]\d+)
  | (?P<abbreviation>(?:[^\W\d_]\.){1,3}[^\W\d_]\.?(?![^\W\d_]))
  | (?P<word>[^\W\d_][^\W\d_\u0300-\u036f]*(?:['’‘`´][^\W\d_]+)*['’]?(?:\x20?\((?:e?s|e?n)\)(?![^\W_]))?)
  | (?P<mark>[-–—/+&@(),.;:<>=*%\[\]?!"×•≤≥_|])
  | (?P<strange>.)
    """,
    re.VERBOSE | re.IGNORECASE | re.DOTALL,
)
_MARKS = {"–": "-", "—": "-", "×": "x", "[": "(", "]": ")", "*": "x"}


@dataclass(frozen=True, slots=True)
class Piece:
    """`norm` is what is looked up; `glued` says that no blank stands before it."""

    kind: str
    text: str
    norm: str
    start: int
    end: int
    glued: bool


def normal(text: str) -> str:
    """Small letters, one kind of apostrophe, composed accents."""
    return unicodedata.normalize("NFC", text.translate(_APOSTROPHES).casefold())


def scan(text: str) -> list[Piece]:
    """Every letter of `text` is in a piece, or is a blank between two."""
    pieces: list[Piece] = []
    last_end = -1
    for found in _PIECE.finditer(text):
        kind = found.lastgroup or "strange"
        if kind != "blank":
            pieces.append(Piece(kind, found[0], _norm(kind, found[0]), found.start(), found.end(), glued=found.start() == last_end))
            last_end = found.end()
    return pieces


def _norm(kind: str, text: str) -> str:
    if kind == "mark":
        return _MARKS.get(text, text)
    if kind == "abbreviation":
        return normal(text).replace(".", "").replace(" ", "")
    if kind == "word" and text.endswith(")"):
        return normal(text[:-1].replace(" ", "").replace("(", ""))  # "tablet(s)" is looked up as "tablets"
    return normal(text)


def split_words(spelling: str) -> list[str]:
    """A spelling cut as `scan` cuts a line."""
    return [piece.norm for piece in scan(spelling)]
