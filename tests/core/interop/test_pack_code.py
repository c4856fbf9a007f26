"""What scanners type from packs that are not GS1's, and that GS1's are read as before."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.gs1 import GS, parse_element_string
from dosewright.core.interop.pack_code import parse_pack_code
from dosewright.core.medicines.national_codes import gtin_of_ndc, gtin_of_pzn

RS, EOT = "\x1e", "\x04"
FIELDS = ("9N110375286414", "1T12345ABCD", "D270600", "S12345ABCDEF98765")
FRAMED = f"[)>{RS}06{GS}" + GS.join(FIELDS) + RS + EOT


def codes(text: str) -> set[str]:
    return {finding.code for finding in parse_pack_code(text, 2026).findings}


@pytest.mark.parametrize("text", [FRAMED, FRAMED.replace(RS, "").replace(EOT, ""), "]d1" + FRAMED, FRAMED + "\r\n"])
def test_a_code_with_a_ppn_says_product_lot_expiry_and_serial(text: str) -> None:
    """The shape of securPharm's sample: with its frame, and from a scanner that leaves the frame out. Day 00 is the month's last."""
    scan = parse_pack_code(text, 2026)
    assert (scan.gtin, scan.lot, scan.expiry, scan.serial) == (gtin_of_pzn("03752864"), "12345ABCD", date(2027, 6, 30), "12345ABCDEF98765")
    assert scan.findings == ()


@given(st.permutations(FIELDS))
def test_in_any_order(fields: list[str]) -> None:
    scan, usual = parse_pack_code(f"[)>{RS}06{GS}" + GS.join(fields) + RS + EOT, 2026), parse_pack_code(FRAMED, 2026)
    assert (scan.gtin, scan.lot, scan.expiry, scan.serial) == (usual.gtin, usual.lot, usual.expiry, usual.serial)


@pytest.mark.parametrize("text", ["-04877800", "]A0-04877800"])
def test_a_pzn_in_code_39_is_the_trade_item_number_of_the_same_pack(text: str) -> None:
    assert parse_pack_code(text, 2026).gtin == gtin_of_pzn("04877800")


FAULTS = [
    (FRAMED.replace("9N110375286414", "9N110375286415"), "interop.gs1-bad-number"),
    (FRAMED.replace("D270600", "D271300"), "interop.gs1-bad-date"),
    (FRAMED.replace("D270600", "D2706"), "interop.gs1-bad-field"),
    (FRAMED.replace("1T12345ABCD", "1T" + "A" * 21), "interop.gs1-bad-field"),
    (FRAMED.replace("1T12345ABCD", "1T"), "interop.gs1-bad-field"),
    (FRAMED.replace("1T12345ABCD", "QQ1"), "interop.gs1-unknown-field"),
    (FRAMED.replace("S12345", "1T12345"), "interop.gs1-twice"),
    ("-04877801", "interop.gs1-bad-number"),
]


@pytest.mark.parametrize(("text", "code"), FAULTS)
def test_what_is_wrong_is_a_stop(text: str, code: str) -> None:
    assert codes(text) == {code}


CV_8 = [
    f"01062910415002131727063010LOT42A{GS}21SN0001",
    f"]d201062910415002131727063010LOT42A{GS}21SN0001",
    f"0106291041500213172706302 1SN0001{GS}10LOT42A".replace(" ", ""),
    "01062910415002131727063010LOT42A21SN0001",
    "06291041500213",
]


@given(st.sampled_from(CV_8) | st.text(alphabet=f"0123456789ABC{GS}", max_size=60))
def test_everything_else_is_read_as_gs1_says(text: str) -> None:
    assert parse_pack_code(text, 2026) == parse_element_string(text, 2026)


@given(st.text(max_size=80))
def test_no_text_breaks_it(text: str) -> None:
    parse_pack_code(text, 2026)
    parse_pack_code(f"[)>{RS}06{GS}{text}", 2026)


TYPED = [
    ("NDC 1234-5678-90", gtin_of_ndc("1234-5678-90")),
    ("ndc: 12345-678-90", gtin_of_ndc("12345-678-90")),
    ("12345-6789-0", gtin_of_ndc("12345-6789-0")),
    ("NDC 12345-0678-90", gtin_of_ndc("12345-678-90")),  # eleven digits: only the product was filled with a zero
    ("PZN - 04877800", gtin_of_pzn("04877800")),
    ("PZN 04877800", gtin_of_pzn("04877800")),
    ("PPN 110375286414", gtin_of_pzn("03752864")),
    ("DIN 00012345", "DIN 00012345"),
    ("DIN00012345", "DIN 00012345"),
    ("PIP 123-4567", "PIP 1234567"),
    ("dm+d 138875005", "SCT 138875005"),
    ("SNOMED CT 138875005", "SCT 138875005"),
]


@pytest.mark.parametrize(("text", "code"), TYPED)
def test_a_code_typed_by_hand_says_which_it_is_and_is_the_pack_that_is_scanned(text: str, code: str) -> None:
    scan = parse_pack_code(text, 2026)
    assert (scan.gtin, scan.lot, scan.expiry, scan.findings) == (code, None, None, ())


def test_an_ndc_typed_and_the_same_pack_scanned_are_one() -> None:
    """Computed from the rule: NDC digits 1234567890 as a trade item number are 00312345678906; in the stores 312345678906 is scanned."""
    assert parse_pack_code("NDC 1234-5678-90", 2026).gtin == parse_pack_code("312345678906", 2026).gtin == "00312345678906"


MISTYPED = [
    "NDC 1234567890",
    "NDC 01234-0678-90",
    "1234-5678-9",
    "12345-6789-012",
    "PZN 04877801",
    "DIN 1234",
    "PIP 12345",
    "dm+d 138875006",
    "DIN",
]


@pytest.mark.parametrize("text", MISTYPED)
def test_a_code_typed_wrong_is_a_stop_that_says_what_would_be_right(text: str) -> None:
    scan = parse_pack_code(text, 2026)
    assert scan.gtin is None
    assert {finding.code for finding in scan.findings} == {"interop.national-code-wrong"}


@pytest.mark.parametrize("text", ["1234567", "12345678", "02241234", "1234567890", "12345678901"])
def test_digits_without_a_word_are_never_taken_for_a_national_code(text: str) -> None:
    assert parse_pack_code(text, 2026).gtin in {None, "00000002241234"}  # eight digits with GS1's check digit are GS1's
