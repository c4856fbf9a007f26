"""Directions without a unit take the product's own, named in `assumed`; never a liquid's, never instead of a unit that was written."""

from fractions import Fraction

import pytest
from tests.core.interop.interop_makers import catalogue, source

from dosewright.core.interop.directions import read_directions
from dosewright.core.interop.order_csv import parse_orders
from dosewright.core.interop.units_meant import mean_units
from dosewright.core.medicines.amounts import units_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.dosage import Amount, Dosage, Range
from dosewright.core.regimen.reading.reading_values import Choice, Question, Reading, ReadingStatus
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.quantity import Quantity, Unit

TABLET, CAPSULE, LIQUID = (catalogue().by_code()[MedicineCode(code)] for code in ("biso5", "amox", "lact"))


def bare(count: int) -> Quantity:
    return Quantity(Fraction(count), Unit(""))


@pytest.mark.parametrize(("text", "medicine", "unit"), [("1 bd", TABLET, "tablet"), ("TWO to be taken at night", CAPSULE, "capsule")])
def test_a_bare_count_is_of_the_product_and_is_confirmed(text: str, medicine: Medicine, unit: str) -> None:
    reading = read_directions(text, medicine, source())
    amounts = [amount.quantity for dosage in reading.dosages for amount in dosage.amounts]
    assert {quantity.unit for quantity in amounts if quantity} == {unit}
    assert [finding.facts["unit"] for finding in reading.assumed if finding.code == "assumed.unit"] == [unit]
    assert all(quantity and isinstance(units_of(quantity, medicine), Fraction) for quantity in amounts)


def test_a_written_unit_stays_and_nothing_is_assumed() -> None:
    written = Reading(ReadingStatus.READ, (Dosage(amounts=(Amount(quantity=Quantity(Fraction(5), Unit("mg"))),)),))
    assert mean_units(written, TABLET) is written


def test_a_bare_count_of_a_liquid_stays_bare() -> None:
    """ "One" may be a spoonful or a millilitre."""
    reading = Reading(ReadingStatus.READ, (Dosage(amounts=(Amount(quantity=bare(1)),)),))
    assert mean_units(reading, LIQUID) is reading


def test_ranges_and_choices_take_the_unit_too() -> None:
    limits = Dosage(amounts=(Amount(range=Range(bare(1), bare(2))),), max_per_administration=bare(2))
    question = Question("read.dose-range", {}, (0, 1), (Choice((limits,)),))
    (filled,) = mean_units(Reading(ReadingStatus.DECIDE, questions=(question,)), TABLET).questions
    (dosage,) = filled.choices[0].dosages
    assert dosage.amounts[0].range == Range(Quantity(Fraction(1), Unit("tablet")), Quantity(Fraction(2), Unit("tablet")))
    assert dosage.max_per_administration == Quantity(Fraction(2), Unit("tablet"))


def test_what_was_assumed_is_said_for_the_order_and_its_line() -> None:
    rows = "person,name,order,medicine,directions\np1,Edith Marsh,o1,biso5,1 bd\n"
    assert "assumed.unit" in {finding.code for finding in parse_orders(rows, source("orders.csv")).findings}
