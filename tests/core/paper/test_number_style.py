"""The way a profile writes numbers reaches the sentence on paper: from the shipped file, through the profile, to the directions line.

Digits: USP <17>. Capital words: label practice of the United Kingdom, Ireland and New Zealand (Health and Disability Commissioner decision
16HDC00441, "Take THREE tablets TWICE daily").
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from tests.core.paper.paper_sample import MATERIAL, ORDERS, REQUEST

from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.paper.directions import directions_of
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.shipped import read_shipped

THREE_TWICE = Dosage(
    timing=Timing(repeat=Repeat(frequency=2, period=Fraction(1), period_unit=TimeUnit.DAY)),
    amounts=(Amount(quantity=Quantity(Fraction(3), Unit("tablet"))),),
)
STYLES = [
    ("us", "en", "Take 3 tablets twice a day."),
    ("ca", "en", "Take 3 tablets twice a day."),
    ("au", "en", "Take 3 tablets twice a day."),
    ("uk", "en", "Take THREE tablets TWICE a day."),
    ("ie", "en", "Take THREE tablets TWICE a day."),
    ("nz", "en", "Take THREE tablets TWICE a day."),
    ("ca", "fr", "Prendre 3 comprimés 2 fois par jour."),
    ("eu", "de", "Einnehmen: 3 Tabletten zweimal täglich."),
    ("eu", "es", "Tomar 3 comprimidos 2 veces al día."),
]


@pytest.mark.parametrize(("profile", "lang", "expected"), STYLES)
def test_directions_are_written_as_the_profile_of_the_country_asks(profile: str, lang: str, expected: str) -> None:
    request = replace(REQUEST, profile=parse_profile(read_shipped("profiles", f"{profile}.toml")))
    material = replace(MATERIAL, request=request, lang=lang)
    assert directions_of(replace(ORDERS[0], dosages=(THREE_TWICE,)), material) == expected


def test_a_small_amount_keeps_its_decimals_on_paper_in_every_language() -> None:
    """ "0,125 mg" is never tidied to 125 mg."""
    amount = Amount(quantity=Quantity(Fraction(1, 8), Unit("mg")))
    order = replace(ORDERS[0], dosages=(replace(THREE_TWICE, amounts=(amount,)),))
    said = [directions_of(order, replace(MATERIAL, lang=lang)) for lang in ("fr", "es", "de")]
    assert all("0,125 mg" in one for one in said), said
