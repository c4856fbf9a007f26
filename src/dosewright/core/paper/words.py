"""Text on its way to paper: composed, its amounts bound to their units, with its weight, size and floor; and what stops it.

Comes in: strings. Goes out: `Para` values for `fit`, or findings: a character no font has, a script that needs shaping, a text rule broken.
"""

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.joints import BIND, bind, bind_all
from dosewright.core.paper.page import Face, Kind
from dosewright.core.paper.shaping import mixes_directions, needs_shaping, stretches
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.safe_text import check_safe_text

__all__ = ["Para", "Words", "amount", "bold", "check_paras", "given", "given_bold", "kept", "plain", "tied"]


@dataclass(frozen=True, slots=True)
class Words:
    """A stretch of text of one weight. `tied`: no line may break between it and what stands before it; `kept`: none where it holds both."""

    text: str
    face: Face
    kind: Kind
    tied: bool = False
    kept: bool = False


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph: its words, full size and floor in points, the indent of its further lines and the space after it in millimetres."""

    words: tuple[Words, ...]
    size: float
    floor: float
    indent: float = 0.0
    after: float = 0.0


def plain(text: str) -> Words:
    """Text about medicines: amounts bound, held to the safe-text rules."""
    return Words(bind(_composed(text)), Face.REGULAR, Kind.MEDICINE)


def tied(text: str) -> Words:
    """Text about medicines that must stay on the line of what stands before it: a name after its amount."""
    return Words(bind(_composed(text)), Face.REGULAR, Kind.MEDICINE, tied=True)


def kept(words: Words) -> Words:
    """The same, on the line of what stands before it wherever a line holds both: for sizes at which `tied` would be too much to ask."""
    return replace(words, kept=True)


def bold(text: str) -> Words:
    """The same, heavier."""
    return Words(bind(_composed(text)), Face.BOLD, Kind.MEDICINE)


def amount(text: str) -> Words:
    """Nothing but an amount, heavier: no line breaks inside it, whatever its words are."""
    return Words(bind_all(_composed(text)), Face.BOLD, Kind.MEDICINE)


def given(text: str) -> Words:
    """A name, address or number, printed as it was given."""
    return Words(_composed(text), Face.REGULAR, Kind.GIVEN)


def given_bold(text: str) -> Words:
    """The same, heavier."""
    return Words(_composed(text), Face.BOLD, Kind.GIVEN)


@lru_cache(maxsize=1024)
def _composed(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).split(" ")).replace("\n", " ").replace("\t", " ").strip(" ")


def check_paras(paras: Iterable[Para], fonts: FontSet, country: str, where: dict[str, Fact]) -> Iterator[Finding]:
    """What keeps these paragraphs off paper, each text once: shaping, missing characters, text rules. All are `stop`."""
    for words in dict.fromkeys(words for para in paras for words in para.words):
        for code, facts in _faults(words, fonts, country):
            yield Finding(code, Severity.STOP, where, {"text": words.text.replace(BIND, " "), **dict(facts)})


@lru_cache(maxsize=1024)
def _faults(words: Words, fonts: FontSet, country: str) -> tuple[tuple[str, tuple[tuple[str, tuple[str, ...]], ...]], ...]:
    """Codes and facts; remembered, because the same words stand on many labels."""
    return tuple(_find_faults(words, fonts, country))


def _find_faults(words: Words, fonts: FontSet, country: str) -> Iterator[tuple[str, tuple[tuple[str, tuple[str, ...]], ...]]]:
    text = words.text
    if needs_shaping(text) and (odd := _not_to_be_shaped(words)):
        yield "paper.needs-shaping", (("characters", odd),)
    elif missing := tuple(dict.fromkeys(odd for part in stretches(text) for odd in fonts.missing(part))):
        yield "paper.no-glyph", (("characters", tuple(f"{odd} ({' '.join(f'U+{ord(letter):04X}' for letter in odd)})" for odd in missing)),)
    if words.kind is Kind.MEDICINE and (broken := check_safe_text(text.replace(BIND, " "), country)):
        yield "paper.unsafe-text", (("rules", broken),)


def _not_to_be_shaped(words: Words) -> tuple[str, ...]:
    """Words that may not be shaped: those about medicines, and those whose direction would be a guess."""
    return tuple(word for word in words.text.split(" ") if needs_shaping(word) and (words.kind is Kind.MEDICINE or mixes_directions(word)))
