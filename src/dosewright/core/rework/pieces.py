"""An amount as what lies in the hand: whole units and broken ones. A tablet in a cavity cannot be made half by taking half of it out."""

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

__all__ = ["pieces_of", "total"]

_HALF, _QUARTER = Fraction(1, 2), Fraction(1, 4)


@lru_cache(maxsize=4096)
def pieces_of(count: Fraction) -> tuple[Fraction, ...]:
    """Whole units first, then what is broken off: 2.75 is 1, 1, a half and a quarter; any other rest is one piece."""
    whole, rest = divmod(count, 1)
    if rest == _HALF + _QUARTER:
        return (*[Fraction(1)] * int(whole), _HALF, _QUARTER)
    return (*[Fraction(1)] * int(whole), *((rest,) if rest else ()))


def total(pieces: Iterable[Fraction]) -> Fraction:
    """What the pieces are together."""
    return sum((piece * many for piece, many in Counter(pieces).items()), Fraction(0))
