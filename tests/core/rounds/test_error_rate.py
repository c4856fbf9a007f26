"""The medication error rate of observed rounds. Source: CMS guidance to surveyors, F759."""

from fractions import Fraction

import pytest

from dosewright.core.rounds.error_rate import error_rate, reaches_limit


@pytest.mark.parametrize(
    ("errors", "given", "not_given", "rate", "cited"),
    [
        pytest.param(2, 43, 0, Fraction(2, 43), False, id="CV-5.1 2 of 43 are 4.65 %, which is not rounded up"),
        pytest.param(2, 40, 0, Fraction(1, 20), True, id="CV-5.1 2 of 40 are 5.00 %"),
        pytest.param(2, 38, 2, Fraction(1, 20), True, id="what was ordered and not given is an opportunity"),
    ],
)
def test_a_rate_is_exact_and_held_against_five_per_cent(errors: int, given: int, not_given: int, rate: Fraction, *, cited: bool) -> None:
    found = error_rate(errors, given, not_given)
    assert found == rate
    assert reaches_limit(found) == cited


@pytest.mark.parametrize(("errors", "given"), [(0, 24), (26, 25), (-1, 30)])
def test_too_few_observations_or_impossible_counts_are_refused(errors: int, given: int) -> None:
    with pytest.raises(ValueError, match="opportunities"):
        error_rate(errors, given, 0)
