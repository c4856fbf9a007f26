"""The medication error rate of observed rounds, as inspectors of nursing homes count it: errors and opportunities in, an exact share out.

Source: CMS guidance to surveyors, F759: errors over doses given plus doses ordered and not given, at least 25 opportunities; 5 % or more is
a deficiency, and 4.6 % may not be rounded up to 5 %.
"""

from fractions import Fraction

__all__ = ["FEWEST_OPPORTUNITIES", "LIMIT", "error_rate", "reaches_limit"]

FEWEST_OPPORTUNITIES = 25
LIMIT = Fraction(5, 100)


def error_rate(errors: int, given: int, not_given: int) -> Fraction:
    """Errors over opportunities, never rounded. Raises ValueError for too few opportunities, or more errors than those."""
    opportunities = given + not_given
    if opportunities < FEWEST_OPPORTUNITIES or not 0 <= errors <= opportunities:
        raise ValueError(f"{errors} errors of {opportunities} opportunities: at least {FEWEST_OPPORTUNITIES} are observed")
    return Fraction(errors, opportunities)


def reaches_limit(rate: Fraction) -> bool:
    """Whether the rate is a deficiency."""
    return rate >= LIMIT
