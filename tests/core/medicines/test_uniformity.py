"""Uniformity of weight and content: worked values of the pharmacopoeias' rules, and what they mean for weighing a cavity."""

from fractions import Fraction
from statistics import mean, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.medicines.uniformity import acceptance_value, missed_share, ph_eur_limit, usp_limit, weight_spread

SOUND = ["98.6", "101.2", "99.4", "100.8", "97.9", "102.3", "100.1", "99.0", "101.7", "100.5"]
WIDE = ["93", "95", "104", "99", "88", "91", "97", "90", "102", "94"]


@pytest.mark.parametrize(("milligrams", "percent"), [(130, "10"), (131, "7.5"), (324, "7.5"), (325, "5")])
def test_usp_allows_less_the_heavier_the_tablet(milligrams: int, percent: str) -> None:
    """CV-6.1. Source: USP 32 <2091>, secondary tables."""
    assert usp_limit(Fraction(milligrams)) == Fraction(percent) / 100


@pytest.mark.parametrize(("milligrams", "percent"), [(80, "10"), (81, "7.5"), (249, "7.5"), (250, "5")])
def test_the_european_pharmacopoeia_has_its_own_steps(milligrams: int, percent: str) -> None:
    """CV-6.1. Source: Ph. Eur. 2.9.5, from memory."""
    assert ph_eur_limit(Fraction(milligrams)) == Fraction(percent) / 100


@pytest.mark.parametrize(
    ("contents", "value", "passes"),
    [
        pytest.param(SOUND, "3.396", True, id="CV-6.2 mean 100.15, s 1.4152"),
        pytest.param(WIDE, "15.699", False, id="CV-6.3 mean 95.3, s 5.2079: to stage 2"),
    ],
)
def test_an_acceptance_value_is_the_worked_one(contents: list[str], value: str, *, passes: bool) -> None:
    """Source: USP <905>, k 2.4 for ten units, L1 15.0; values computed."""
    found = acceptance_value([Fraction(one) for one in contents])
    assert abs(found - Fraction(value)) < Fraction(1, 1000)
    assert (found <= 15) == passes


@given(st.lists(st.integers(80, 120), min_size=30, max_size=30))
def test_an_acceptance_value_agrees_with_the_formula_in_floating_point(contents: list[int]) -> None:
    middle = mean(contents)
    expected = abs(min(max(middle, 98.5), 101.5) - middle) + 2.0 * stdev(contents)
    assert float(acceptance_value([Fraction(one) for one in contents])) == pytest.approx(expected, rel=1e-12)


def test_another_number_of_units_is_refused() -> None:
    with pytest.raises(ValueError, match="ten or thirty"):
        acceptance_value([Fraction(100)] * 9)


def test_weight_cannot_prove_that_a_tablet_is_there() -> None:
    """CV-6.4, computed. 2 × 650, 250, 2 × 160, 120, 90, 2 × 400 mg; limits of 5, 5, 7.5, 10, 10, 5 %, read as holding nine in ten."""
    full = [(650, "5"), (650, "5"), (250, "5"), (160, "7.5"), (160, "7.5"), (120, "10"), (90, "10"), (400, "5"), (400, "5")]
    few = [(650, "5"), (120, "10"), (90, "10")]
    assert (sum(weight for weight, _ in full), sum(weight for weight, _ in few)) == (2880, 860)
    limits = [Fraction(weight) * Fraction(percent) / 100 for weight, percent in full]
    assert sum(limits) == Fraction("162.5")  # more than the 90 mg tablet weighs
    spread = weight_spread(limits)
    assert float(spread) == pytest.approx(36.4, abs=0.05)
    assert float(90 / spread) == pytest.approx(2.47, abs=0.005)
    assert missed_share(Fraction(90), spread) == pytest.approx(0.108, abs=0.0005)
    of_few = weight_spread([Fraction(weight) * Fraction(percent) / 100 for weight, percent in few])
    assert float(of_few) == pytest.approx(21.8, abs=0.05)
    assert missed_share(Fraction(90), of_few) == pytest.approx(0.019, abs=0.0005)
