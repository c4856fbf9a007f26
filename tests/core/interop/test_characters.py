"""Which characters a name or a direction may hold. Sources: Unicode Standard Annex 9 (bidirectional controls); OWASP on CSV injection."""

import sys
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.characters import find_forbidden, shown, starts_like_a_formula

# Every character with the property Bidi_Control, by Unicode's PropList.
BIDI_CONTROLS = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


@pytest.mark.parametrize("letter", BIDI_CONTROLS, ids=lambda letter: f"U+{ord(letter):04X}")
def test_what_turns_the_direction_of_writing_is_refused(letter: str) -> None:
    found = find_forbidden(f"Ann {letter}Low")
    assert found is not None
    assert found.startswith(f"U+{ord(letter):04X} ")


@pytest.mark.parametrize(
    "letter", "\0\x07\x1b\x7f\x85\u200b\u2060\ufeff\u00ad\ufffd\ue000\u2028\u2029", ids=lambda letter: f"U+{ord(letter):04X}"
)
def test_what_cannot_be_shown_is_refused(letter: str) -> None:
    assert find_forbidden(f"a{letter}b", breaks=True)


@pytest.mark.parametrize(
    "name",
    [
        'O\'Brien "Nan"',
        "Zoe\u0301",
        "\u05d0\u05d1\u05e8\u05d4\u05dd",
        "\u0645\u062d\u0645\u062f",
        "Nguy\u1ec5n",
        "\u0915\u094d\u200d\u0937",
        "\u738b\u5c0f\u660e",
        "S\u00f8rensen-L\u00f6w",
    ],
)
def test_names_of_every_script_are_names(name: str) -> None:
    assert find_forbidden(name) is None
    assert shown(name) == name


def test_line_breaks_stand_only_where_they_may() -> None:
    assert find_forbidden("one\ntwo", breaks=True) is None
    assert find_forbidden("one\ntwo") == "U+000A control character"


@pytest.mark.parametrize("text", ["=1+1", "+x", "-x", "@x", "=HYPERLINK(1)"])
def test_a_spreadsheet_formula_is_known(text: str) -> None:
    assert starts_like_a_formula(text)


@pytest.mark.parametrize("text", ["", "Ann", "5 mg", "(=1)", "'=1"])
def test_other_text_is_no_formula(text: str) -> None:
    assert not starts_like_a_formula(text)


@given(st.text())
def test_what_a_message_repeats_is_short_and_can_be_shown(text: str) -> None:
    assert len(shown(text)) <= 61
    assert all(unicodedata.category(letter) not in ("Cc", "Cf", "Cs") or letter in "\u200c\u200d" for letter in shown(text))


def test_what_is_printable_is_of_no_forbidden_category() -> None:
    """All of Unicode: the quick answer for printable text is the answer of the categories, character by character."""
    refused = {chr(at) for at in range(sys.maxunicode + 1) if find_forbidden(chr(at)) is not None}
    by_category = {
        chr(at) for at in range(sys.maxunicode + 1) if unicodedata.category(chr(at)) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
    }
    assert refused == (by_category | {"\ufffd"}) - {"\u200c", "\u200d"}
