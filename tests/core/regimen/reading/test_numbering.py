"""Numbers in every spelling are one exact value, or a question; never another value."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.regimen.reading.languages import find_language
from dosewright.core.regimen.reading.numbering import Spelled, spelled_number
from dosewright.core.regimen.reading.scanning import scan
from dosewright.core.units.quantity import format_amount


def spelled(text: str, lang: str = "en") -> Spelled | None:
    language = find_language(lang, "GB" if lang == "en" else "")
    assert language is not None
    pieces = scan(text)
    return spelled_number(pieces, [piece.norm for piece in pieces], 0, language.lexicon, language.customs.decimal)


EXACT = [
    ("1", "1"), ("12", "12"), ("0.5", "1/2"), ("1.5", "3/2"), ("½", "1/2"), ("1½", "3/2"), ("1 ½", "3/2"), ("1/2", "1/2"), ("1 1/2", "3/2"),
    ("¼", "1/4"), ("3/4", "3/4"), ("one", "1"), ("half", "1/2"), ("half a", "1/2"), ("half of a", "1/2"), ("one half", "1/2"),
    ("one-half", "1/2"), ("a half", "1/2"), ("one and a half", "3/2"), ("one and one-half", "3/2"), ("two and a half", "5/2"),
    ("one-and-a-half", "3/2"), ("1 and 1/2", "3/2"), ("1 & 1/2", "3/2"), ("a quarter", "1/4"), ("three quarters", "3/4"), ("1,000", "1000"),
    ("12,500", "12500"), ("1,000,000", "1000000"), ("twenty-one", "21"), ("125", "125"), ("62.5", "125/2"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value"), EXACT)
def test_a_spelling_has_its_value(text: str, value: str) -> None:
    found = spelled(text)
    assert found is not None
    assert (found.value, found.ask) == (Fraction(value), "")
    assert found.end == len(scan(text))


ASKED = [
    ("1.0", "1", "read.trailing-zero"), ("2.50", "5/2", "read.trailing-zero"), (".5", "1/2", "read.naked-decimal"),
    ("01", "1", "read.leading-zero"), ("11/2", "11/2", "read.odd-fraction"), ("5/7", "5/7", "read.odd-fraction"),
    ("1/3", "1/3", "read.odd-fraction"), ("1,5", "3/2", "read.decimal-comma"), ("1,00", "1", "read.decimal-comma"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value", "code"), ASKED)
def test_a_spelling_that_people_misread_is_asked(text: str, value: str, code: str) -> None:
    found = spelled(text)
    assert found is not None
    assert (found.value, found.ask) == (Fraction(value), code)


OTHER_LANGUAGES = [
    ("1,5", "de", "3/2", ""), ("0,5", "fr", "1/2", ""), ("1.000", "de", "1000", "read.thousands"), ("1.5", "de", "3/2", ""),
    ("anderthalb", "de", "3/2", ""), ("medio", "es", "1/2", ""), ("1 y medio", "es", "3/2", ""), ("un demi", "fr", "1/2", ""),
    ("1 et demi", "fr", "3/2", ""), ("2,0", "fr", "2", "read.trailing-zero"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "lang", "value", "code"), OTHER_LANGUAGES)
def test_each_language_has_its_decimal_mark_and_its_words(text: str, lang: str, value: str, code: str) -> None:
    found = spelled(text, lang)
    assert found is not None
    assert (found.value, found.ask) == (Fraction(value), code)


@pytest.mark.parametrize("text", ["1.2.3", "1,2.3", "1,00,000", "1,0000", "1/0", "0,000"])
def test_what_is_no_number_is_none(text: str) -> None:
    found = spelled(text)
    assert found is None or found.end < len(scan(text)) or found.ask


@given(st.integers(0, 999), st.sampled_from(["", ".5", ".25", ".75", ".125"]))
def test_a_decimal_is_read_as_it_is_written(whole: int, part: str) -> None:
    found = spelled(f"{whole}{part}")
    assert found is not None
    assert format_amount(found.value) == f"{whole}{part}"
    assert found.ask == ""
