"""Volumes of units, exact and never too small. Check values: worked out by hand from the formulas of solid geometry."""

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.packing.makers import medicine

from dosewright.core.medicines.capsule_sizes import CAPSULE_SIZES, capsule_size
from dosewright.core.medicines.medicine import Shape, Size
from dosewright.core.medicines.volume import PI_ABOVE, piece_count, unit_volume
from dosewright.core.packing.verify.room import cubic_millimetres, pieces

WORKED = [
    pytest.param(Shape.ROUND, ("8", "8", "3.2"), 161, id="flat round 8 by 3.2"),
    pytest.param(Shape.ROUND, ("13", "13", "5"), 664, id="flat round 13 by 5"),
    pytest.param(Shape.CAPLET, ("19", "7.5", "6"), 783, id="caplet 19 by 7.5 by 6, stadium prism"),
    pytest.param(Shape.OVAL, ("18", "9", "6.5"), 551, id="ellipsoid 18 by 9 by 6.5"),
]

# Locked length, outer diameter, external volume in mL: published table of two-piece capsules, volume as spherocylinder.
CAPSULES = {
    "000": ("25.9", "9.96", 1.759),
    "00": ("23.5", "8.55", 1.186),
    "0": ("21.4", "7.66", 0.869),
    "1": ("19.3", "6.93", 0.641),
    "2": ("17.8", "6.37", 0.500),
    "3": ("15.8", "5.85", 0.372),
    "4": ("14.4", "5.33", 0.282),
    "5": ("11.4", "4.91", 0.185),
}

sides = st.fractions(min_value=Fraction(1, 2), max_value=30, max_denominator=20)
sizes = st.tuples(sides, sides, sides).map(lambda s: Size(max(s[:2]), min(s[:2]), s[2]))


def size(*sides: str, cup: str | None = None) -> Size:
    length, width, thickness = map(Fraction, sides)
    return Size(length, width, thickness, cup=Fraction(cup) if cup else None)


@pytest.mark.parametrize(("shape", "sides", "cubic_millimetres"), WORKED)
def test_a_unit_has_the_volume_worked_out_by_hand(shape: Shape, sides: tuple[str, ...], cubic_millimetres: int) -> None:
    assert round(unit_volume(shape, size(*sides)) / 1000) == cubic_millimetres


def test_a_biconvex_unit_of_known_cup_has_its_band_and_two_caps() -> None:
    """8 mm across, band 2.0, cups 0.8: 141 mm³."""
    assert round(unit_volume(Shape.BICONVEX, size("8", "8", "3.6", cup="0.8")) / 1000) == 141


def test_a_biconvex_unit_of_unknown_cup_counts_as_flat() -> None:
    assert unit_volume(Shape.BICONVEX, size("8", "8", "3.6")) == unit_volume(Shape.ROUND, size("8", "8", "3.6"))


@pytest.mark.parametrize("name", CAPSULES)
def test_a_capsule_has_the_published_external_volume(name: str) -> None:
    length, diameter, millilitres = CAPSULES[name]
    assert capsule_size(name) == size(length, diameter, diameter)
    assert unit_volume(Shape.CAPSULE, CAPSULE_SIZES[name]) / 1_000_000 == pytest.approx(millilitres, abs=0.0006)


@given(sizes, st.sampled_from(Shape))
def test_no_volume_is_below_the_true_one_nor_above_the_box(unit: Size, shape: Shape) -> None:
    """The true volume in floating point, with the true pi, is the oracle; the planner's may exceed it by its rounding only."""
    length, width, thick = float(unit.length), float(unit.width), float(unit.thickness)
    across, long = sorted((max(width, thick), length))
    true = {
        Shape.ROUND: pi * length * length * thick / 4,
        Shape.BICONVEX: pi * length * width * thick / 4,
        Shape.CAPLET: ((length - width) * width + pi * width * width / 4) * thick,
        Shape.OVAL: pi * length * width * thick / 6,
        Shape.CAPSULE: pi * across**2 * (long - across) / 4 + pi * across**3 / 6,
    }[shape]
    found = unit_volume(shape, unit) / 1000
    assert true * (1 - 1e-12) <= found <= true * (1 + 1e-7) + 0.001


@given(sizes, st.sampled_from(Shape))
def test_the_recount_by_other_formulas_is_never_above_the_planner_s(unit: Size, shape: Shape) -> None:
    """Else the recount would call a lawful cavity over-full; and it is below by no more than rounding."""
    recounted = cubic_millimetres(replace(medicine("Alpha"), size=unit, shape=shape))
    planned = Fraction(unit_volume(shape, unit), 1000)
    assert recounted <= planned <= recounted * (1 + Fraction(1, 10**6)) + Fraction(1, 1000)


@given(sizes, st.fractions(min_value=0, max_value=Fraction(1, 2)))
def test_a_deeper_cup_never_takes_more_room(unit: Size, share: Fraction) -> None:
    round_unit = Size(unit.length, unit.length, unit.thickness)
    cupped = Size(unit.length, unit.length, unit.thickness, cup=unit.thickness * share)
    if unit.thickness * share <= cupped.length / 2:
        assert unit_volume(Shape.BICONVEX, cupped) <= unit_volume(Shape.ROUND, round_unit)


def test_pi_is_taken_from_above() -> None:
    assert pi < PI_ABOVE < pi + 2.7e-7


@pytest.mark.parametrize(("count", "many"), [("1", 1), ("0.5", 1), ("1.5", 2), ("0.25", 1), ("0.75", 2), ("2.75", 4), ("3", 3)])
def test_each_broken_part_is_a_piece(count: str, many: int) -> None:
    assert piece_count(Fraction(count)) == many == pieces(Fraction(count))
