"""Amounts are bound, text is composed, and what cannot be printed right is found before anything is drawn."""

import pytest
from tests.core.paper.written_names import NAMES

from dosewright.core.paper.joints import BIND, bind
from dosewright.core.paper.page import Face, Kind
from dosewright.core.paper.words import Para, Words, check_paras, given, plain
from dosewright.core.units.finding import Fact
from dosewright.devices.fonts import load_fonts

BOUND = [  # spaces that may break are written as spaces, the others as ~
    ("metformin 500 mg", "metformin 500~mg"),
    ("Take 2 tablets in the morning and 2 tablets at bedtime.", "Take 2~tablets in the morning and 2~tablets at bedtime."),
    ("half a tablet", "half~a~tablet"),
    ("a quarter of a tablet", "a~quarter~of~a~tablet"),
    ("three quarters of a tablet", "three~quarters~of~a~tablet"),
    ("Take 1 and a half tablets at noon", "Take 1~and~a~half~tablets at noon"),
    ("ONE AND A HALF tablets", "ONE~AND~A~HALF~tablets"),
    ("TWO capsules", "TWO~capsules"),
    ("1,000 units", "1,000~units"),
    ("62.5 micrograms", "62.5~micrograms"),
    ("at most 8 puffs in 24 hours", "at most 8~puffs in 24~hours"),
    ("Monday 2 March 2026", "Monday 2~March 2026"),
]


@pytest.mark.parametrize(("text", "bound"), BOUND)
def test_an_amount_stays_with_its_unit(text: str, bound: str) -> None:
    assert bind(text).replace(BIND, "~") == bound


def found(words: Words, country: str = "GB") -> list[tuple[str, dict[str, Fact]]]:
    return [
        (finding.code, dict(finding.facts)) for finding in check_paras((Para((words,), 10, 10),), load_fonts(), country, {"person": "p1"})
    ]


@pytest.mark.parametrize(
    "name", ["Wilhelmina Okonedo-Hart", "Żółć Łęcki", "Ελένη Παπαδοπούλου", "Иван Ёжиков", "İnci Weiß ẞ", "Nguyễn Thị", "O’Brien"]
)
def test_names_in_latin_greek_and_cyrillic_letters_can_be_printed(name: str) -> None:
    assert found(given(name)) == []


def test_a_name_typed_with_combining_marks_is_composed_and_printed() -> None:
    assert found(given("Zoe\u0301")) == []
    assert given("Zoe\u0301").text == "Zo\u00e9"


@pytest.mark.parametrize("name", [*NAMES.values(), "x\u030c\u0323", "Sara שרה לוי"])
def test_a_name_in_a_script_that_needs_shaping_can_be_printed(name: str) -> None:
    assert found(given(name)) == []


@pytest.mark.parametrize("words", [given("zero\u200bwidth"), given("שרהx"), given("م٣"), given("a\u202eb"), plain("שרה")])
def test_what_could_come_out_wrong_stops_and_says_so(words: Words) -> None:
    assert [code for code, _ in found(words)] == ["paper.needs-shaping"]


def test_a_script_without_a_font_here_stops() -> None:
    """Khmer stacks letters too; no font for it is shipped, so it is never printed as boxes."""
    assert [code for code, _ in found(given("សុខា"))] == ["paper.no-glyph"]


@pytest.mark.parametrize(("name", "missing"), [("張偉", ("張 (U+5F35)", "偉 (U+5049)")), ("Ann 🙂", ("🙂 (U+1F642)",))])
def test_a_character_that_no_font_has_stops_and_is_named(name: str, missing: tuple[str, ...]) -> None:
    assert found(given(name)) == [("paper.no-glyph", {"text": name, "characters": missing})]


def test_text_about_medicines_obeys_the_safe_text_rules_and_a_name_need_not() -> None:
    assert found(plain("1/2 tablet OD")) == [
        ("paper.unsafe-text", {"text": "1/2 tablet OD", "rules": ("daily-abbreviation", "fraction-with-slash")})
    ]
    assert found(given("Flat 1/2, Mill & Sons Road")) == []


def test_the_uk_asks_for_micrograms_below_one_milligram() -> None:
    assert [code for code, _ in found(plain("digoxin 0.0625 mg"))] == ["paper.unsafe-text"]
    assert found(plain("digoxin 0.0625 mg"), "US") == []


def test_each_text_is_found_once() -> None:
    words = Words("1/2", Face.REGULAR, Kind.MEDICINE)
    assert len(list(check_paras((Para((words, words), 10, 10), Para((words,), 9, 9)), load_fonts(), "GB", {}))) == 1
