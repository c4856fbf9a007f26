"""The rates of putting cards right: the shipped file, and every slip in one."""

from fractions import Fraction

import pytest

from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.interop.toml_text import TomlError
from dosewright.devices.shipped import read_shipped

SHIPPED = read_shipped("rework", "rates.toml")


def test_the_published_minutes_are_the_defaults() -> None:
    """Weekly devices in rural community pharmacies, 2023: discarding 0.2, checking, sealing and labelling 2.2, filling 6.8 minutes."""
    minutes = parse_rates(SHIPPED).minutes
    assert (minutes.discard_card, minutes.check_seal_label) == (Fraction("0.2"), Fraction("2.2"))
    assert abs(minutes.place_piece * 56 - Fraction("6.8")) < Fraction("0.1")


def test_the_share_of_errors_that_a_check_misses_follows_from_the_publication() -> None:
    """35 % of 103 pharmacists found all five planted errors: the fifth root of 0.35 for one, if they are independent."""
    missed = parse_rates(SHIPPED).errors.missed_by_check
    assert abs((1 - missed) ** 5 - Fraction("0.35")) < Fraction("0.002")


SLIPS = [
    pytest.param("discard_card = { value = 0.2", "discard_card = { value = -0.2", "minutes.discard_card.value must be", id="below zero"),
    pytest.param("discard_card = { value = 0.2", 'discard_card = { value = "0.2"', "minutes.discard_card.value must be", id="in quotes"),
    pytest.param("discard_card =", "discard_cards =", "minutes.discard_card is missing", id="misspelt"),
    pytest.param("[hours]", "[hours]\nfetch = 1", "hours.fetch is not known here", id="unknown"),
    pytest.param('evidence = "retrieved"', 'evidence = "known"', "evidence must be one of", id="how it is known"),
    pytest.param("[errors] #", "[errors]\nx = 1 #", "errors.x is not known here", id="another line"),
]


@pytest.mark.parametrize(("right", "wrong", "sentence"), SLIPS)
def test_a_slip_is_named_by_line_and_field(right: str, wrong: str, sentence: str) -> None:
    with pytest.raises(TomlError, match=r"line \d+: .*") as caught:
        parse_rates(SHIPPED.replace(right, wrong, 1))
    assert sentence in str(caught.value)


def test_every_line_has_its_source() -> None:
    for line in (line for line in SHIPPED.splitlines() if "value =" in line):
        without = SHIPPED.replace(line, line.replace("source =", "origin ="))
        with pytest.raises(TomlError):
            parse_rates(without)
