"""Doses become counts of units only where that is exact."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.packing.makers import medicine

from dosewright.core.medicines.amounts import NotCountable, units_of
from dosewright.core.packing.verify.substance import worth
from dosewright.core.units.quantity import Quantity, Unit

FIVE_MG = medicine("Alpha")


def dose(count: str, unit: str) -> Quantity:
    return Quantity(Fraction(count), Unit(unit))


COUNTED = [
    pytest.param("1", "tablet", "1", id="one tablet"),
    pytest.param("1.5", "tablets", "1.5", id="plural"),
    pytest.param("2", "TAB", "2", id="orderable drug form code"),
    pytest.param("2", "{tbl}", "2", id="UCUM annotation"),
    pytest.param("0.25", "tablet", "0.25", id="a quarter, where the order counts tablets"),
    pytest.param("10", "mg", "2", id="mg by strength"),
    pytest.param("2.5", "mg", "0.5", id="half by strength"),
    pytest.param("0.01", "g", "2", id="grams"),
    pytest.param("2500", "micrograms", "0.5", id="micrograms"),
    pytest.param("2500", "mcg", "0.5", id="mcg"),
]

REFUSED = [
    pytest.param("1.25", "mg", "amount.inexact", id="a quarter by strength is not halves"),
    pytest.param("3", "mg", "amount.inexact", id="three fifths of a tablet"),
    pytest.param("1/3", "tablet", "amount.inexact", id="a third cannot be broken"),
    pytest.param("1", "capsule", "amount.unit-mismatch", id="another form's unit"),
    pytest.param("5", "mL", "amount.unit-mismatch", id="a liquid's unit"),
    pytest.param("100", "unit", "amount.unit-mismatch", id="activity is not mass"),
    pytest.param("505", "mg", "amount.too-many", id="more tablets than anybody takes at once"),
    pytest.param("1" + "0" * 30, "tablet", "amount.too-many", id="an absurd number"),
    pytest.param("1", "", "amount.no-unit", id="no unit: 1 tablet or 1 mg?"),
]


@pytest.mark.parametrize(("count", "unit", "units"), COUNTED)
def test_an_exact_amount_is_counted(count: str, unit: str, units: str) -> None:
    assert units_of(dose(count, unit), FIVE_MG) == Fraction(units)


@pytest.mark.parametrize(("count", "unit", "code"), REFUSED)
def test_an_amount_that_is_not_exact_is_refused_with_its_reason(count: str, unit: str, code: str) -> None:
    assert units_of(dose(count, unit), FIVE_MG) == NotCountable(code)


@pytest.mark.parametrize("changes", [{"flags": frozenset({"halves-no"})}, {"unit": Unit("capsule"), "form": "capsule"}])
def test_what_may_not_be_divided_is_not(changes: dict[str, object]) -> None:
    whole = replace(FIVE_MG, **changes)  # type: ignore[arg-type]
    assert units_of(dose("2.5", "mg"), whole) == NotCountable("amount.not-breakable")
    assert units_of(dose("10", "mg"), whole) == 2


def test_a_product_of_two_substances_has_no_mg() -> None:
    combined = replace(FIVE_MG, strength="50 mg/12.5 mg", strength_amount=None)
    assert units_of(dose("50", "mg"), combined) == NotCountable("amount.unit-mismatch")


@given(st.fractions(min_value=0, max_value=2000, max_denominator=16), st.sampled_from(["mg", "g", "microgram", "tablet", "mL", ""]))
def test_the_recount_agrees_on_every_amount(count: Fraction, unit: str) -> None:
    """It compares substance, not units: what one can count the other can, and to the same sum."""
    asked = Quantity(count, Unit(unit))
    counted, recounted = units_of(asked, FIVE_MG), worth(asked, FIVE_MG)
    assert isinstance(counted, NotCountable) == (recounted is None)
    if isinstance(counted, Fraction):
        assert counted * 5 == recounted
