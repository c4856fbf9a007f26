"""Counting in languages whose nouns have a gender: the noun for so many, numbers in words or digits, exact decimals with a comma."""

from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.quantity import format_amount

__all__ = ["Noun", "count_words", "decimal_text"]


@dataclass(frozen=True, slots=True)
class Noun:
    """A countable thing: `one` comprimé, `many` comprimés."""

    one: str
    many: str
    feminine: bool = False

    def of(self, count: Fraction) -> str:
        """The noun for that many, up to one in the singular."""
        return self.one if count <= 1 else self.many


def count_words(whole: int, style: NumberStyle, ones: list[str]) -> str:
    """Digits, or capital words up to twelve where the style asks for words."""
    return ones[whole].upper() if style == "words" and whole < len(ones) else str(whole)


def decimal_text(count: Fraction) -> str | None:
    """ "2,5"; None where the number has no decimal form, or is so large that its thousands would need a mark."""
    exact = format_amount(count)
    return exact.replace(".", ",") if "/" not in exact and count < 1000 else None
