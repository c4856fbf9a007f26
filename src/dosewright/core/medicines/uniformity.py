"""How far the weights and contents of single units may differ by the pharmacopoeias, and what that means for weighing a filled cavity.

Comes in: label weights or contents, exact. Goes out: limits and acceptance values. They are why no cavity is called right by its weight
(docs/decisions/036-no-cavity-is-right-by-its-weight.md). Sources: USP 32 <2091>; Ph. Eur. 2.9.5 (from memory); USP <905>.
"""

from collections.abc import Sequence
from decimal import Decimal, localcontext
from fractions import Fraction
from statistics import NormalDist

__all__ = ["acceptance_value", "missed_share", "ph_eur_limit", "usp_limit", "weight_spread"]

_K = {10: Fraction(24, 10), 30: Fraction(2)}  # USP <905>: acceptability constant by the number of units
_NINETY = Fraction(1645, 1000)  # standard deviations to either side that hold nine tenths of a normal distribution
_DIGITS = 28


def usp_limit(milligrams: Fraction) -> Fraction:
    """The share by which an uncoated tablet of that mean weight may differ. Source: USP 32 <2091>, secondary tables."""
    if milligrams <= 130:
        return Fraction(10, 100)
    return Fraction(75, 1000) if milligrams <= 324 else Fraction(5, 100)


def ph_eur_limit(milligrams: Fraction) -> Fraction:
    """The same by Ph. Eur. 2.9.5, uncoated and film-coated tablets (from memory)."""
    if milligrams <= 80:
        return Fraction(10, 100)
    return Fraction(75, 1000) if milligrams < 250 else Fraction(5, 100)


def acceptance_value(contents: Sequence[Fraction]) -> Fraction:
    """USP <905>: |M - mean| + k s of ten or thirty contents in per cent of the label, where M is the mean within 98.5 and 101.5.

    Raises ValueError for another number of units. The root in s is exact to 28 digits.
    """
    if len(contents) not in _K:
        raise ValueError(f"ten or thirty units are weighed, not {len(contents)}")
    mean = sum(contents, Fraction(0)) / len(contents)
    reference = min(max(mean, Fraction("98.5")), Fraction("101.5"))
    variance = sum(((one - mean) ** 2 for one in contents), Fraction(0)) / (len(contents) - 1)
    return abs(reference - mean) + _K[len(contents)] * _root(variance)


def weight_spread(limits: Sequence[Fraction]) -> Fraction:
    """The standard deviation of the weight of a cavity whose units differ each by at most so many milligrams, nine times in ten."""
    return _root(sum(((limit / _NINETY) ** 2 for limit in limits), Fraction(0)))


def missed_share(missing: Fraction, spread: Fraction) -> float:
    """How often a cavity without a unit of that weight passes a balance whose threshold lies half-way: a chance, no amount of anything."""
    return NormalDist().cdf(-float(missing / spread) / 2)


def _root(square: Fraction) -> Fraction:
    with localcontext() as context:
        context.prec = _DIGITS
        return Fraction((Decimal(square.numerator) / Decimal(square.denominator)).sqrt())
