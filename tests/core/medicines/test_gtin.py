"""Trade item numbers. Source of the vectors: GS1's national organisations (Sweden, India, Hong Kong, United Kingdom), as published."""

import pytest

from dosewright.core.medicines.gtin import gtin_check_digit, parse_gtin

VECTORS = [
    ("730001100001", "7"),
    ("890400021003", "7"),
    ("629104150021", "3"),
    ("501234567890", "0"),
    ("0629104150021", "3"),
    ("1629104150021", "0"),
]


@pytest.mark.parametrize(("stem", "digit"), VECTORS)
def test_the_check_digit_is_the_published_one(stem: str, digit: str) -> None:
    assert gtin_check_digit(stem) == digit
    assert parse_gtin(stem + digit) == (stem + digit).rjust(14, "0")


@pytest.mark.parametrize(
    "text", ["", "1", "629104150021", "6291041500214", "62910415002133000", "629104150021\u0663", "ABCDEFGHIJKLM", " 6291041500213"]
)
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="digit"):
        parse_gtin(text)
