"""A dose taken when needed, held against its stated maximum. Source: HL7 FHIR R4 Dosage.maxDosePerPeriod, maxDosePerAdministration."""

from fractions import Fraction

import pytest
from tests.core.regimen.regimen_makers import MONDAY, a_dosage, an_order

from dosewright.core.regimen.dosage import Amount, Maximum, Range, Span, TimeUnit
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.quantity import Quantity, Unit

NEEDED = [
    pytest.param(1, 2, None, None, True, id="within both"),
    pytest.param(2, 2, 2, None, True, id="just what is allowed"),
    pytest.param(3, 2, None, None, False, id="above the day's maximum"),
    pytest.param(3, None, 2, None, False, id="above the most at one time"),
    pytest.param(1, 2, None, 3, False, id="the upper end of a range above the day's maximum"),
]


@pytest.mark.parametrize(("dose", "a_day", "at_once", "up_to", "allowed"), NEEDED)
def test_one_dose_taken_when_needed_is_not_above_its_own_maximum(
    dose: int, a_day: int | None, at_once: int | None, up_to: int | None, *, allowed: bool
) -> None:
    def tablets(count: int) -> Quantity:
        return Quantity(Fraction(count), Unit("tablet"))

    amount = Amount(range=Range(tablets(dose), tablets(up_to))) if up_to else Amount(tablets(dose))
    needed = a_dosage(
        None,
        as_needed=True,
        amounts=(amount,),
        max_per_period=Maximum(tablets(a_day), Span(Fraction(1), TimeUnit.DAY)) if a_day else None,
        max_per_administration=tablets(at_once) if at_once else None,
    )
    found = expand(an_order(needed), STANDARD_TIMETABLE, MONDAY, 7)
    assert (found.status is ExpansionStatus.AS_NEEDED) is allowed
    assert bool(found.findings) is not allowed
