"""GS1 element strings. Vectors: GS1 General Specifications by way of the project's check values CV-8.1 to CV-8.3; check digits by GS1
Sweden, India, Hong Kong and UK."""

from datetime import date, timedelta
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.gs1 import GS, parse_date, parse_element_string
from dosewright.core.medicines.gtin import gtin_check_digit
from dosewright.core.units.finding import Severity

ELEMENTS = {"01": "06291041500213", "17": "270630", "10": "LOT42A", "21": "SN0001"}
WHOLE = (ELEMENTS["01"], "LOT42A", date(2027, 6, 30), "SN0001")


def said(text: str) -> tuple[str | None, str | None, date | None, str | None]:
    scan = parse_element_string(text, 2026)
    return scan.gtin, scan.lot, scan.expiry, scan.serial


def codes(text: str) -> set[str]:
    return {finding.code for finding in parse_element_string(text, 2026).findings}


def test_cv_8_1_a_code_says_product_expiry_lot_and_serial() -> None:
    assert said("01062910415002131727063010LOT42A\x1d21SN0001") == WHOLE
    assert codes("01062910415002131727063010LOT42A\x1d21SN0001") == set()


@pytest.mark.parametrize("order", list(permutations(ELEMENTS)), ids="-".join)
@pytest.mark.parametrize("prefix", ["", "]d2", "]C1", "]Q3"])
def test_cv_8_1_the_order_of_the_fields_and_the_kind_of_symbol_change_nothing(order: tuple[str, ...], prefix: str) -> None:
    fields = [name + ELEMENTS[name] + (GS if name in {"10", "21"} and name != order[-1] else "") for name in order]
    assert said(prefix + "".join(fields)) == WHOLE
    assert codes(prefix + "".join(fields)) == set()


def test_cv_8_1_a_missing_separator_is_never_passed_over_in_silence() -> None:
    scan = parse_element_string("01062910415002131727063010LOT42A21SN0001", 2026)
    assert [(finding.code, finding.severity) for finding in scan.findings] == [("interop.gs1-separator-missing", Severity.DECIDE)]
    assert (scan.lot, scan.gtin, scan.expiry) == (None, ELEMENTS["01"], date(2027, 6, 30))


def test_a_separator_after_a_field_of_fixed_length_does_no_harm() -> None:
    assert said("0106291041500213\x1d17270630\x1d10LOT42A\x1d21SN0001\x1d") == WHOLE


DATES = [
    pytest.param("280200", date(2028, 2, 29), id="CV-8.2 day 00 in a leap year"),
    pytest.param("270200", date(2027, 2, 28), id="CV-8.2 day 00"),
    pytest.param("260430", date(2026, 4, 30), id="a day as it stands"),
    pytest.param("750101", date(2075, 1, 1), id="CV-8.3 75"),
    pytest.param("760101", date(2076, 1, 1), id="CV-8.3 76"),
    pytest.param("770101", date(1977, 1, 1), id="CV-8.3 77 is the last century"),
    pytest.param("990101", date(1999, 1, 1), id="CV-8.3 99"),
    pytest.param("000101", date(2000, 1, 1), id="CV-8.3 00"),
]


@pytest.mark.parametrize(("text", "expected"), DATES)
def test_dates_are_read_by_the_standards_rules(text: str, expected: date) -> None:
    assert parse_date(text, 2026) == expected


@given(year=st.integers(2000, 2100), two=st.integers(0, 99))
def test_the_century_is_the_one_from_49_years_before_to_50_after(year: int, two: int) -> None:
    read = parse_date(f"{two:02}0115", year).year
    assert read % 100 == two
    assert -49 <= read - year <= 50


@given(st.dates(date(2026, 1, 1), date(2060, 12, 31)))
def test_every_date_comes_back(day: date) -> None:
    assert parse_date(day.strftime("%y%m%d"), 2026) == day
    last = (day.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)
    assert parse_date(day.strftime("%y%m00"), 2026) == last


BAD = [
    pytest.param("010629104150021317271300", "interop.gs1-bad-date", id="there is no month 13"),
    pytest.param("010629104150021317270231", "interop.gs1-bad-date", id="there is no 31 February"),
    pytest.param("010629104150021317270001", "interop.gs1-bad-date", id="there is no month 0"),
    pytest.param("0106291041500214", "interop.gs1-bad-number", id="wrong check digit"),
    pytest.param("6291041500214", "interop.gs1-bad-number", id="wrong check digit of a bare number"),
    pytest.param("010629104150021", "interop.gs1-bad-field", id="cut short"),
    pytest.param("01062910415002I3", "interop.gs1-bad-field", id="a letter among the digits"),
    pytest.param("010629104150021310" + "A" * 21, "interop.gs1-bad-field", id="a lot of 21 characters"),
    pytest.param("010629104150021310", "interop.gs1-bad-field", id="an empty lot"),
    pytest.param("010629104150021399X", "interop.gs1-unknown-field", id="an unknown field"),
    pytest.param("01062910415002130106291041500213", "interop.gs1-twice", id="the product twice"),
    pytest.param("010629104150021310A\x1d10B", "interop.gs1-twice", id="two lots"),
    pytest.param("", "interop.gs1-nothing", id="nothing"),
    pytest.param("hello", "interop.gs1-unknown-field", id="no code at all"),
]


@pytest.mark.parametrize(("text", "code"), BAD)
def test_a_code_that_is_wrong_says_what_is_wrong(text: str, code: str) -> None:
    assert code in codes(text)


@pytest.mark.parametrize(
    ("stem", "digit"), [("730001100001", "7"), ("890400021003", "7"), ("629104150021", "3"), ("501234567890", "0"), ("1629104150021", "0")]
)
def test_bare_numbers_are_read_with_their_check_digit(stem: str, digit: str) -> None:
    assert gtin_check_digit(stem) == digit
    assert said(stem + digit) == ((stem + digit).rjust(14, "0"), None, None, None)
    assert said("]E0" + stem + digit)[0] == (stem + digit).rjust(14, "0")


@given(st.text(max_size=60))
def test_no_text_whatever_makes_it_fail(text: str) -> None:
    scan = parse_element_string(text, 2026)
    assert scan.findings or scan.gtin or scan.elements
