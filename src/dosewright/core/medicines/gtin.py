"""Trade item numbers. Comes in: 8, 12, 13 or 14 digits. Goes out: `Gtin`, always 14 digits. Source: GS1 General Specifications, 7.9."""

from dosewright.core.units.ids import Gtin

__all__ = ["GTIN_LENGTHS", "gtin_check_digit", "parse_gtin"]

GTIN_LENGTHS = (8, 12, 13, 14)


def parse_gtin(text: str) -> Gtin:
    """The number with zeros in front. Raises ValueError for another length, anything but digits 0 to 9, or a wrong check digit."""
    if len(text) not in GTIN_LENGTHS or not (text.isascii() and text.isdigit()):
        raise ValueError(f"a trade item number has 8, 12, 13 or 14 digits: {text!r}")
    if gtin_check_digit(text[:-1]) != text[-1]:
        raise ValueError(f"the check digit of {text} is wrong: it must be {gtin_check_digit(text[:-1])}")
    return Gtin(text.rjust(14, "0"))


def gtin_check_digit(digits: str) -> str:
    """The last digit that belongs to the digits before it: from the right, weights 3, 1, 3, 1, …"""
    total = sum(int(digit) * (3 if place % 2 == 0 else 1) for place, digit in enumerate(reversed(digits)))
    return str(-total % 10)
