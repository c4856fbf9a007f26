"""Counting in languages whose nouns have a gender: the noun for so many, numbers in words or digits, exact decimals with a comma."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.quantity import Quantity, format_amount

__all__ = ["Counting", "Noun", "count_words"]


_GLYPHS = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾"}


@dataclass(frozen=True, slots=True)
class Noun:
    """A countable thing: `one` comprimé, `many` comprimés. `glyphs`: parts of it are written ½, not in words."""

    one: str
    many: str
    feminine: bool = False
    glyphs: bool = False

    def of(self, count: Fraction) -> str:
        """The noun for that many, up to one in the singular."""
        return self.one if count <= 1 else self.many


def count_words(whole: int, style: NumberStyle, ones: list[str]) -> str:
    """Digits, or capital words up to twelve where the style asks for words."""
    return ones[whole].upper() if style == "words" and whole < len(ones) else _thousands(whole)


def _thousands(whole: int) -> str:
    """ "1 000" with a blank that does not break: the comma and the point are decimal marks here. Source: ISO 80000-1, 7.3.1."""
    return f"{whole:,}".replace(",", "\u00a0")


def _decimal_text(count: Fraction) -> str | None:
    """ "2,5"; None where the number has no decimal form, or three decimals after a whole, which look like thousands."""
    exact = format_amount(count)
    whole, point, decimals = exact.partition(".")
    if "/" in exact or (whole != "0" and len(decimals) > 2):
        return None
    return _thousands(int(whole)) + point.replace(".", ",") + decimals


@dataclass(frozen=True, slots=True)
class Counting:
    """How one language counts: its nouns and measures by unit, number words for a noun's gender, and a part beside a whole."""

    nouns: Mapping[str, Noun]
    measured: Mapping[str, str]
    ones: Callable[[Noun], list[str]]
    with_part: Callable[[int, Fraction, Noun, NumberStyle], str | None]

    def say(self, quantity: Quantity, style: NumberStyle) -> str | None:
        """The amount in words; None where this language has no safe words for it."""
        if quantity.unit in self.measured:
            number = _decimal_text(quantity.count)
            return f"{number} {self.measured[quantity.unit]}" if number else None
        noun = self.nouns.get(quantity.unit)
        if noun is None:
            return None
        whole, rest = divmod(quantity.count, 1)
        if rest and (not noun.one or noun.glyphs):
            return _with_glyph(int(whole), rest, noun)
        if not rest:
            in_style: NumberStyle = style if noun.one else "digits"  # a number word has a gender: none for what is not named
            return f"{count_words(int(whole), in_style, self.ones(noun))} {noun.of(Fraction(whole))}".strip()
        return self.with_part(int(whole), rest, noun, style)


def _with_glyph(whole: int, rest: Fraction, noun: Noun) -> str | None:
    """ "1½ Beutel": one small sign where the noun is not said, or its gender would need words that few would write so."""
    glyph = _GLYPHS.get(rest)
    return f"{whole or ''}{glyph} {noun.of(whole + rest)}".strip() if glyph else None
