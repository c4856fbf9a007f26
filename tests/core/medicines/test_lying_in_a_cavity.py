"""Whether a unit can lie in a cavity: every way it can lie is the oracle."""

from fractions import Fraction
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.medicines.capsule_sizes import capsule_size
from dosewright.core.medicines.footprint import fits_inside, smallest_rectangle
from dosewright.core.medicines.medicine import Size

sides = st.fractions(min_value=Fraction(1, 2), max_value=30, max_denominator=4)
sizes = st.tuples(sides, sides, sides).map(lambda s: Size(max(s[:2]), min(s[:2]), s[2]))


def test_a_size_00_capsule_lies_along_the_long_side_only() -> None:
    """30 by 18 by 14 mm: 23.5 mm is more than 18 mm, so it lies along the 30 mm side (CV-6.5, computed)."""
    capsule = capsule_size("00")
    assert smallest_rectangle(capsule, Fraction(14)) == (Fraction("23.5"), Fraction("8.55"))
    assert fits_inside(capsule, Fraction(30), Fraction(18), Fraction(14))
    assert not fits_inside(capsule, Fraction(23), Fraction(18), Fraction(14))


def test_a_unit_too_long_for_the_floor_is_refused_although_its_volume_fits() -> None:
    """CV-6.6, computed: 26 by 4 by 4 mm is a twentieth of the cavity's volume."""
    assert not fits_inside(Size(Fraction(26), Fraction(4), Fraction(4)), Fraction(25), Fraction(25), Fraction(12))


def test_a_unit_may_stand_upright_where_the_cavity_is_deep_enough() -> None:
    assert smallest_rectangle(Size(Fraction(10), Fraction(8), Fraction(4)), Fraction(10)) == (Fraction(8), Fraction(4))


def test_a_unit_that_stands_out_however_it_lies_needs_no_floor_at_all() -> None:
    assert smallest_rectangle(Size(Fraction(10), Fraction(8), Fraction(8)), Fraction(7)) is None


@given(sizes, sides, sides, sides)
def test_it_lies_inside_exactly_if_one_of_the_six_ways_to_lie_does(unit: Size, one: Fraction, two: Fraction, depth: Fraction) -> None:
    length, width = max(one, two), min(one, two)
    ways = permutations((unit.length, unit.width, unit.thickness))
    some = any(a <= length and b <= width and c <= depth for a, b, c in ways)
    assert fits_inside(unit, length, width, depth) == some


@pytest.mark.parametrize("bad", [("0", "1", "1"), ("1", "2", "1"), ("2", "1", "-1")])
def test_impossible_sizes_are_refused_at_birth(bad: tuple[str, str, str]) -> None:
    with pytest.raises(ValueError, match="unit's"):
        Size(*map(Fraction, bad))
