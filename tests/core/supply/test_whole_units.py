"""Halves come out of whole tablets."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.supply.whole_units import draw_whole_units

HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)

DRAWS = [
    pytest.param([HALF] * 20, 10, Fraction(0), id="CV-7.2 twenty halves"),
    pytest.param([HALF] * 21, 11, HALF, id="CV-7.2 twenty-one halves"),
    pytest.param([HALF] * 19, 10, HALF, id="CV-7.3 nineteen halves"),
    pytest.param([Fraction(3, 2)] * 7, 11, HALF, id="seven of one and a half"),
    pytest.param([QUARTER] * 5, 2, Fraction(3, 4), id="five quarters"),
    pytest.param([Fraction(1, 3)] * 4, 2, Fraction(2, 3), id="four thirds"),
    pytest.param([Fraction(1)] * 7, 7, Fraction(0), id="whole ones"),
    pytest.param([], 0, Fraction(0), id="nothing"),
]


@pytest.mark.parametrize(("amounts", "whole", "leftover"), DRAWS)
def test_whole_units_are_taken_and_the_rest_is_accounted_for(amounts: list[Fraction], whole: int, leftover: Fraction) -> None:
    draw = draw_whole_units(amounts)
    assert (draw.whole, draw.leftover) == (whole, leftover)


@given(st.lists(st.fractions(min_value=Fraction(1, 4), max_value=4, max_denominator=4)))
def test_nothing_is_lost_and_never_a_whole_unit_is_left(amounts: list[Fraction]) -> None:
    draw = draw_whole_units(amounts)
    assert draw.whole == sum(amounts) + draw.leftover
    assert 0 <= draw.leftover < 1
