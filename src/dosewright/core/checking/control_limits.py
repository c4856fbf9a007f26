"""How far a share, or a run of good cards, may stray by chance alone: three standard deviations, by the formulas of p- and g-charts.

Comes in: exact fractions and counts. Goes out: limits, their reach rounded up in the ninth decimal; whether a figure lies beyond is decided
on the exact fractions, never on the rounded ones. Source: STANDARDS.md 9.3: Montgomery (p-chart), Benneyan (g-chart).
"""

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt

__all__ = ["Limits", "Side", "g_limits", "g_side", "least_for_lower_limit", "p_limits", "p_side"]

_NINTH = 10**9  # limits are drawn and written; nine decimals are more than either shows
_SIGMAS = 9  # three standard deviations, squared

Side = int  # -1 below the lower limit, 0 between the limits or on one, 1 above the upper limit


@dataclass(frozen=True, slots=True)
class Limits:
    """The centre line and what lies three standard deviations from it; the lower one never below 0, a share's upper one never above 1."""

    centre: Fraction
    lower: Fraction
    upper: Fraction


def p_limits(share: Fraction, many: int) -> Limits:
    """For a share `share` of `many`: p ± 3·√(p(1 - p)/n). Raises ValueError for a share outside 0 to 1 or nothing counted."""
    _require_share(share, many)
    reach = _root(_SIGMAS * share * (1 - share) / many)
    return Limits(share, max(share - reach, Fraction(0)), min(share + reach, Fraction(1)))


def p_side(found: int, many: int, share: Fraction) -> Side:
    """On which side of its limits `found` of `many` lies, exactly. On a limit is not beyond it."""
    _require_share(share, many)
    away = Fraction(found, many) - share
    return _side(away, _SIGMAS * share * (1 - share) / many)


def least_for_lower_limit(share: Fraction) -> int:
    """From how many on a share has a lower limit above 0: the least n > 9·(1 - p)/p. Raises ValueError for a share of 0."""
    if not 0 < share <= 1:
        raise ValueError(f"no count gives a share of {share} a lower limit")
    return int(_SIGMAS * (1 - share) / share) + 1


def g_limits(mean: Fraction) -> Limits:
    """For runs of `mean` units between two events: g + 3·√(g(g + 1)). The lower limit is always 0. Raises ValueError below 0."""
    if mean < 0:
        raise ValueError(f"a mean of runs cannot be below zero: {mean}")
    return Limits(mean, Fraction(0), mean + _root(_SIGMAS * mean * (mean + 1)))


def g_side(run: int, mean: Fraction) -> Side:
    """Whether a run is longer than chance explains, exactly: 1, else 0."""
    return max(_side(run - mean, _SIGMAS * mean * (mean + 1)), 0)


def _side(away: Fraction, reach_squared: Fraction) -> Side:
    if away * away <= reach_squared:
        return 0
    return 1 if away > 0 else -1


def _require_share(share: Fraction, many: int) -> None:
    if not 0 <= share <= 1:
        raise ValueError(f"a share lies between 0 and 1: {share}")
    if many < 1:
        raise ValueError("a share of nothing has no limits")


def _root(square: Fraction) -> Fraction:
    """The square root, rounded up in the ninth decimal."""
    scaled = square * _NINTH * _NINTH
    whole = -(-scaled.numerator // scaled.denominator)
    root = isqrt(whole)
    return Fraction(root if root * root == whole else root + 1, _NINTH)
