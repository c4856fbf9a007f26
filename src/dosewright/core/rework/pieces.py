"""An amount as what lies in the hand: whole units and broken ones. A tablet in a cavity cannot be made half by taking half of it out."""

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

__all__ = ["how_many", "pieces_of", "total"]

_HALF, _QUARTER = Fraction(1, 2), Fraction(1, 4)


def pieces_of(count: Fraction) -> tuple[Fraction, ...]:
    """Whole units first, then what is broken off: 2.75 is 1, 1, a half and a quarter; any other rest is one piece."""
    return _pieces(*count.as_integer_ratio())


def how_many(count: Fraction) -> int:
    """How many pieces that are."""
    return len(_pieces(*count.as_integer_ratio()))


@lru_cache(maxsize=4096)
def _pieces(numerator: int, denominator: int) -> tuple[Fraction, ...]:
    """By the two whole numbers: a fraction's own hash takes a modular power."""
    whole, rest = divmod(Fraction(numerator, denominator), 1)
    if rest == _HALF + _QUARTER:
        return (*[Fraction(1)] * int(whole), _HALF, _QUARTER)
    return (*[Fraction(1)] * int(whole), *((rest,) if rest else ()))


def total(pieces: Iterable[Fraction]) -> Fraction:
    """What the pieces are together."""
    return sum((piece * many for piece, many in Counter(pieces).items()), Fraction(0))
