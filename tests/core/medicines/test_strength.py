"""Strengths as written are exact values that can be compared."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.medicines.strength import Strength, find_strengths, parse_unit_strength, unit_of_measure
from dosewright.core.units.quantity import Quantity, Unit

FOUND = [
    ("5 mg", [("5", "mg", "")]),
    ("5mg", [("5", "mg", "")]),
    ("0.5 g", [("500", "mg", "")]),
    ("62.5 micrograms", [("0.0625", "mg", "")]),
    ("62.5 mcg", [("0.0625", "mg", "")]),
    ("62.5 \u00b5g", [("0.0625", "mg", "")]),
    ("62.5 \u03bcg", [("0.0625", "mg", "")]),
    ("1,000 units", [("1000", "unit", "")]),
    ("1,000 IU", [("1000", "unit", "")]),
    ("50 mg/12.5 mg", [("50", "mg", ""), ("12.5", "mg", "")]),
    ("25 mg and 100 mg", [("25", "mg", ""), ("100", "mg", "")]),
    ("1.5 g and 400 units", [("1500", "mg", ""), ("400", "unit", "")]),
    ("5 mg/5 mL", [("1", "mg", "mL")]),
    ("3.35 g per 5 mL", [("670", "mg", "mL")]),
    ("100 units per mL", [("100", "unit", "mL")]),
    ("100 micrograms per dose", [("0.1", "mg", "dose")]),
    ("5 micrograms per hour", [("0.005", "mg", "hour")]),
    ("120 micrograms/24 hours", [("0.005", "mg", "hour")]),
    ("5 mg/g", [("0.005", "mg", "mg")]),
    ("0.5%", [("0.5", "%", "")]),
    ("Bisoprolol 5 mg tablets", [("5", "mg", "")]),
    ("Co-careldopa 25 mg/100 mg tablets, 100 pack", [("25", "mg", ""), ("100", "mg", "")]),
    ("Xamine", []),
    ("5 mgx", []),
    ("B12", []),
    ("vitamin B 12 mg-free", [("12", "mg", "")]),
    ("", []),
]


@pytest.mark.parametrize(("text", "expected"), FOUND)
def test_every_strength_in_a_text_is_found(text: str, expected: list[tuple[str, str, str]]) -> None:
    assert find_strengths(text) == tuple(Strength(Fraction(count), unit, per) for count, unit, per in expected)


@pytest.mark.parametrize("text", ["50 mg/12.5 mg", "5 mg/5 mL", "about 5 mg", "5 mg tablets", "", "5", "mg", "-5 mg"])
def test_what_is_not_one_amount_in_one_unit_has_none(text: str) -> None:
    assert parse_unit_strength(text) is None


@given(st.decimals(min_value="0.001", max_value="99999", places=3), st.sampled_from(["mg", "g", "microgram", "mmol"]))
def test_one_strength_is_what_is_written(count: Decimal, unit: str) -> None:
    assert parse_unit_strength(f"{count} {unit}") == Quantity(Fraction(count), Unit(unit))


@given(st.integers(1, 10**6))
def test_the_same_amount_in_another_unit_is_the_same_strength(micrograms: int) -> None:
    assert find_strengths(f"{micrograms} micrograms") == find_strengths(f"{Decimal(micrograms) / 1000:f} mg")


def test_mass_and_activity_are_never_the_same() -> None:
    assert find_strengths("5 mg") != find_strengths("5 units")
    assert unit_of_measure("drop") is None
