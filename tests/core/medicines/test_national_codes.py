"""Numbers of packs by country, against published values."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.medicines.gtin import parse_gtin
from dosewright.core.medicines.national_codes import (
    gtin_of_ndc,
    gtin_of_pzn,
    national_words,
    ndc10,
    ndc11,
    ndc12,
    parse_din,
    parse_pip,
    parse_ppn,
    parse_pzn,
    parse_sctid,
    pzn_check_digit,
    sctid_check_digit,
)

NDC = [  # FDA's notes on ten and eleven digits; twelve worked out by filling each part with zeros (91 FR 10749)
    ("1234-5678-90", "01234567890", "001234567890"),
    ("12345-678-90", "12345067890", "012345067890"),
    ("12345-6789-0", "12345678900", "012345678900"),
]


@pytest.mark.parametrize(("text", "eleven", "twelve"), NDC)
def test_ten_digits_become_eleven_and_twelve(text: str, eleven: str, twelve: str) -> None:
    assert (ndc11(text), ndc12(text)) == (eleven, twelve)


@pytest.mark.parametrize("text", ["1234567890", "", "123-4567-890", "12345-6789-00", "1234-5678-9O", "1234-5678"])
def test_what_has_several_meanings_or_none_is_refused(text: str) -> None:
    for read in (ndc11, ndc12, gtin_of_ndc):
        with pytest.raises(ValueError, match=r"hyphens|no national drug code"):
            read(text)


def test_the_three_meanings_of_ten_bare_digits_are_one_trade_item_number() -> None:
    """Why bare digits are refused as an NDC and no harm as a trade item number: the hyphens are not in it."""
    assert len({gtin_of_ndc(text) for text, _, _ in NDC}) == 1
    assert parse_gtin(gtin_of_ndc(NDC[0][0])) == gtin_of_ndc(NDC[0][0])


@pytest.mark.parametrize(("seven", "eighth"), [("0487780", "0"), ("0083897", "3")])
def test_the_check_digit_of_a_pzn(seven: str, eighth: str) -> None:
    """IFA's samples: 0487780 → 04877800; the older six digits 083897 have 3, by weights from 2, as with a zero in front."""
    assert pzn_check_digit(seven) == eighth


@pytest.mark.parametrize("text", ["PZN - 04877800", "-04877800", "PZN-4877800", "04877800"])
def test_a_pzn_is_read_as_printed_and_as_scanned(text: str) -> None:
    assert parse_pzn(text) == "04877800"


@pytest.mark.parametrize("text", ["04877801", "0487780012", "-048A7800", "", "PZN"])
def test_a_pzn_with_a_wrong_check_digit_or_shape_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="PZN"):
        parse_pzn(text)


def test_a_product_number_carries_its_pzn() -> None:
    """IFA's sample: 1103752864 has the check digits 14."""
    assert parse_ppn("110375286414") == "03752864"
    for wrong in ("110375286415", "120375286414", "11037528641", "11037528641४"):
        with pytest.raises(ValueError, match=r"product number|check digits"):
            parse_ppn(wrong)


@given(st.integers(0, 9_999_999).map(lambda number: f"{number:07}"))
def test_every_pzn_has_one_trade_item_number_with_a_right_check_digit(seven: str) -> None:
    try:
        pzn = seven + pzn_check_digit(seven)
    except ValueError:
        return
    number = gtin_of_pzn(pzn)
    assert parse_gtin(number) == number
    assert number[5:13] == pzn


@given(st.text("0123456789", min_size=8, max_size=8), st.integers(0, 7), st.integers(1, 9))
def test_one_wrong_digit_of_a_pzn_is_noticed(text: str, place: int, more: int) -> None:
    """Any single digit changed, as weights 1 to 7 and a check digit by 11 promise."""
    try:
        right = text[:7] + pzn_check_digit(text[:7])
    except ValueError:
        return
    wrong = right[:place] + str((int(right[place]) + more) % 10) + right[place + 1 :]
    with pytest.raises(ValueError, match=r"PZN|check digit"):
        parse_pzn(wrong)


@pytest.mark.parametrize(("text", "eleven", "_"), NDC)
def test_eleven_digits_are_the_ten_that_they_were_filled_from(text: str, eleven: str, _: str) -> None:
    """FDA's vectors backwards: where only one part begins with a zero it is that part which was filled."""
    hyphened = f"{eleven[:5]}-{eleven[5:9]}-{eleven[9:]}"
    if sum(part.startswith("0") for part in hyphened.split("-")) == 1:
        assert ndc10(eleven) == ndc10(hyphened) == text
    assert ndc10(text) == text


@pytest.mark.parametrize(
    "text", ["01234-0678-90", "01234-0678-09", "12345-6789-11", "01234067890", "1234567890", "123456789012", "0123456789"]
)
def test_digits_that_may_be_several_packs_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"different packs|hyphens|no national drug code"):
        ndc10(text)


@given(st.sampled_from([(4, 4, 2), (5, 3, 2), (5, 4, 1)]), st.integers(0, 9_999_999_999).map(lambda number: f"{number:010}"))
def test_eleven_digits_are_read_as_the_pack_they_came_from_or_refused(widths: tuple[int, int, int], digits: str) -> None:
    first, second, _ = widths
    text = f"{digits[:first]}-{digits[first : first + second]}-{digits[first + second :]}"
    try:
        found = ndc10(ndc11(text))
    except ValueError:
        return
    assert found == text


def test_a_din_and_a_pip_code_have_their_digits_and_nothing_to_reckon() -> None:
    assert parse_din("00012345") == "00012345"  # zeros in front count
    assert parse_pip("123-4567") == parse_pip("1234567") == "1234567"
    for wrong in ("12345", "000123456", "0001234A", "", "٠٠٠١٢٣٤٥"):
        with pytest.raises(ValueError, match="no DIN"):
            parse_din(wrong)
        with pytest.raises(ValueError, match="no PIP"):
            parse_pip(wrong)


# Identifiers that SNOMED CT itself publishes: its root, clinical finding, diabetes mellitus, myocardial infarction, asthma, hypertension.
SCTID = ["138875005", "404684003", "73211009", "22298006", "195967001", "38341003"]


@pytest.mark.parametrize("text", SCTID)
def test_identifiers_that_are_published_have_the_right_check_digit(text: str) -> None:
    assert parse_sctid(text) == text
    assert sctid_check_digit(text[:-1]) == text[-1]


@given(st.integers(100_000, 10**15).map(str), st.data())
def test_one_wrong_digit_and_two_neighbours_exchanged_are_found(stem: str, data: st.DataObject) -> None:
    """What Verhoeff's method is for: every single slip, and every exchange of two neighbours."""
    right = f"{stem}10" + sctid_check_digit(f"{stem}10")
    at = data.draw(st.integers(0, len(right) - 1))
    slip = right[:at] + str((int(right[at]) + data.draw(st.integers(1, 9))) % 10) + right[at + 1 :]
    assert sctid_check_digit(slip[:-1]) != slip[-1]
    at = data.draw(st.integers(0, len(right) - 2))
    exchanged = right[:at] + right[at + 1] + right[at] + right[at + 2 :]
    assert exchanged == right or sctid_check_digit(exchanged[:-1]) != exchanged[-1]


@pytest.mark.parametrize("text", ["138875006", "138875015", "12345", "0138875005", "1" * 19, "", "13887500A"])
def test_what_is_no_identifier_of_a_product_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"SNOMED|check digit"):
        parse_sctid(text)


def test_a_number_says_what_its_country_calls_it() -> None:
    assert national_words(gtin_of_pzn("04877800")) == "PZN 04877800"
    assert national_words(gtin_of_ndc("1234-5678-90")) == "NDC digits 1234567890"
    assert national_words("06291041500213") == national_words("DIN 02241234") == ""
