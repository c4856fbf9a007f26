"""R13: only a convention about the name of a time of day is remembered; a question of safety never is, nor anything beyond the readings."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.packing.makers import medicine
from tests.core.regimen.regimen_makers import EVERY_MORNING, a_dosage, every

from dosewright.core.custody.conventions import CONVENTIONS
from dosewright.core.custody.meanings import choices_of
from dosewright.core.custody.wordings import (
    WHOLE_PHARMACY,
    Wording,
    check_remembering,
    check_revoking,
    check_scope,
    choice_by,
    key_of,
    may_remember,
    remember,
)
from dosewright.core.paper.say import sentences
from dosewright.core.regimen.dosage import Amount, Dosage
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Choice, Question, Reading, ReadingStatus, Setting
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import HomeId
from dosewright.core.units.quantity import Quantity, Unit

METFORMIN = medicine("Metformin", strength="500 mg")
KEY = key_of("Take 1 tablet with dinner", "en", "GB", METFORMIN)
NOON, EVENING = a_dosage(every(1, 1, "d", when=("CD",))), a_dosage(every(1, 1, "d", when=("CV",)))


def words(text: str, country: str = "GB") -> Reading:
    return read(text, Setting("en", country, "tablet", "500 mg"))


def asked(*meanings: Dosage, codes: tuple[str, ...] = ("read.word",)) -> Reading:
    """A reading that asks these questions and lays these meanings out."""
    first, *rest = codes
    choices = tuple(Choice((meaning,)) for meaning in meanings)
    questions = (Question(first, {}, (0, 1), choices), *(Question(code, {}, (0, 1)) for code in rest))
    return Reading(ReadingStatus.DECIDE, questions=questions)


CONVENTIONAL = [
    "Take 1 tablet with dinner",
    "Take 1 tablet with supper",
    "Take 2 tablets in the afternoon",
    "1 tablet at 8",
    "1 tablet with meals",
]
# Questions of safety, each as people write it
NEVER = [
    pytest.param("Take 1 or 2 tablets with dinner", id="a range beside a convention"),
    pytest.param("Take 1-2 tablets in the morning", id="a range"),
    pytest.param("Take 5.0 tablets with dinner", id="a trailing zero"),
    pytest.param("Take .5 tablet with dinner", id="a naked decimal"),
    pytest.param("Take 2 tablets daily with dinner maximum 1 tablet in 24 hours", id="a maximum"),
    pytest.param("Take 1 tablet with dinner not on Sundays or Mondays and not tea", id="a negation"),
    pytest.param("Take 1 tablet with dinner as directed", id="as directed"),
    pytest.param("Take 1 tablet with dinner zxqv", id="an unknown word"),
    pytest.param("Take 1 tablet biweekly with dinner", id="an error-prone abbreviation"),
    pytest.param("Take 1 tablet with dinner if blood pressure is above 140", id="a condition"),
    pytest.param("Tkae 1 tablet with dinner", id="a slip of spelling"),
    pytest.param("Take 1 tablet in the morning", id="nothing is open"),
    pytest.param("", id="nothing is said"),
]


@pytest.mark.parametrize("text", CONVENTIONAL)
def test_what_a_meal_or_an_hour_is_called_may_be_remembered(text: str) -> None:
    reading = words(text)
    assert reading.status is ReadingStatus.DECIDE, text
    assert may_remember(reading)


@pytest.mark.parametrize("text", NEVER)
def test_a_line_with_a_question_of_safety_is_never_remembered(text: str) -> None:
    assert not may_remember(words(text))


def test_nothing_is_remembered_where_nothing_was_read() -> None:
    assert not may_remember(None)


# Questions of the reader that are not about the name of a time of day, written out by hand; what is not in the table is never remembered
SAFETY = [
    "abbreviation",
    "after-first",
    "alternating",
    "and-then",
    "as-directed",
    "at-once-or-in-all",
    "both-sides",
    "clock",
    "condition",
    "contradiction",
    "cross",
    "cycle-again",
    "daily-or-each",
    "decimal-comma",
    "divided",
    "dose-range",
    "empty",
    "error-prone",
    "frequency-carried",
    "language",
    "leading-zero",
    "maximum",
    "maximum-when",
    "midnight",
    "mixed",
    "mixed-days",
    "month-end",
    "naked-decimal",
    "negation",
    "no-frequency",
    "no-match",
    "no-period",
    "no-quantity",
    "not-in-units",
    "not-understood",
    "odd-cycle",
    "odd-day",
    "odd-fraction",
    "odd-length",
    "odd-range",
    "offset",
    "once-or-each",
    "one-after-other",
    "one-or-two",
    "or",
    "pattern",
    "phase-length",
    "quantity",
    "range",
    "relative",
    "run-together",
    "scope",
    "spelling",
    "step",
    "stop-when",
    "strength",
    "thousands",
    "tomorrow",
    "too-long",
    "too-many",
    "total",
    "trailing-zero",
    "twelve",
    "twice-said",
    "two-units",
    "unfinished",
    "unit-abbreviation",
    "unit-missing",
    "unknown-word",
]


def test_no_question_of_safety_is_in_the_table_and_every_row_has_its_reason() -> None:
    assert not {f"read.{name}" for name in SAFETY} & set(CONVENTIONS)
    assert all(len(reason.split()) > 5 for reason in CONVENTIONS.values())
    assert set(CONVENTIONS) <= set(sentences())


@given(st.sampled_from([code for code in sorted(sentences()) if code.startswith("read.") and code not in CONVENTIONS]), st.booleans())
def test_one_question_outside_the_table_is_enough_to_keep_words_from_being_remembered(code: str, first: bool) -> None:  # noqa: FBT001
    codes = (code, "read.word") if first else ("read.word", code)
    assert not may_remember(asked(NOON, EVENING, codes=codes))


TWO = replace(EVENING, amounts=(Amount(Quantity(Fraction(2), Unit("tablet"))),))
OTHER = [
    pytest.param(TWO, id="another amount"),
    pytest.param(a_dosage(every(2, 1, "d", when=("CD", "CV"))), id="more often"),
    pytest.param(a_dosage(every(1, 2, "d", when=("CV",))), id="other days"),
    pytest.param(replace(EVENING, as_needed=True), id="when needed"),
    pytest.param(replace(EVENING, sequence=2), id="another phase"),
    pytest.param(a_dosage(None, timing=None), id="no time at all"),
]


@pytest.mark.parametrize("other", OTHER)
def test_meanings_that_differ_in_more_than_the_time_of_day_are_a_question_of_safety_whatever_they_are_called(other: Dosage) -> None:
    assert may_remember(asked(NOON, EVENING))
    assert not may_remember(asked(NOON, other))


def held(reading: Reading, choice: int = 1) -> Wording:
    return remember(KEY, reading, choice)


def test_a_wording_chooses_the_same_meaning_of_the_same_readings_in_whatever_order() -> None:
    wording = held(asked(NOON, EVENING))
    assert choice_by(wording, asked(NOON, EVENING)) == 1
    assert choice_by(wording, asked(EVENING, NOON)) == 0


CHANGED = [
    pytest.param(asked(NOON), id="one meaning less"),
    pytest.param(asked(NOON, EVENING, a_dosage(EVERY_MORNING)), id="one more"),
    pytest.param(asked(NOON, a_dosage(every(1, 1, "d", when=("HS",)))), id="another in its place"),
    pytest.param(asked(NOON, EVENING, codes=("read.hour",)), id="another question"),
    pytest.param(asked(NOON, EVENING, codes=("read.word", "read.hour")), id="one question more"),
    pytest.param(asked(NOON, EVENING, codes=("read.abbreviation",)), id="a question of safety"),
    pytest.param(Reading(ReadingStatus.READ, (EVENING,)), id="one reading now"),
]


@pytest.mark.parametrize("reading", CHANGED)
def test_a_wording_says_nothing_of_any_other_readings(reading: Reading) -> None:
    assert choice_by(held(asked(NOON, EVENING)), reading) is None
    assert choice_by(None, reading) is None


def test_of_the_readers_own_words_the_remembered_meaning_is_found_again() -> None:
    reading = words("Take 1 tablet with dinner")
    for number in range(len(choices_of(reading))):
        assert choice_by(held(reading, number), words("TAKE 1 TABLET  with dinner")) == number
    assert choice_by(held(reading, 0), words("Take 1 tablet with dinner", "US")) is None


@pytest.mark.parametrize(
    ("reading", "choice"), [(words("Take 1 or 2 tablets daily"), 0), (asked(NOON, EVENING), 2), (asked(NOON, EVENING), -1)]
)
def test_what_may_not_be_remembered_makes_no_wording(reading: Reading, choice: int) -> None:
    with pytest.raises(ValueError, match="safety"):
        held(reading, choice)


def test_a_key_levels_blanks_case_and_the_coding_of_accents_and_nothing_else() -> None:
    assert key_of(" TAKE 1\ttablet\nwith dinner ", "en", "GB", METFORMIN) == KEY
    assert key_of("1 comprimé", "fr", "FR", METFORMIN) == key_of("1 comprime\u0301", "fr", "FR", METFORMIN)
    others = [
        key_of("Take 1 tablet with dinner.", "en", "GB", METFORMIN),
        key_of("Take 1 tablet with dinner", "fr", "GB", METFORMIN),
        key_of("Take 1 tablet with dinner", "en", "IE", METFORMIN),
        key_of("Take 1 tablet with dinner", "en", "GB", replace(METFORMIN, form="capsule")),
        key_of("Take 1 tablet with dinner", "en", "GB", replace(METFORMIN, unit=Unit("capsule"))),
        key_of("Take 1 tablet with dinner", "en", "GB", METFORMIN, HomeId("lindens")),
    ]
    assert KEY not in others


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.code for finding in findings]


def test_only_what_was_chosen_for_a_confirmed_order_is_remembered_once_and_with_a_reason() -> None:
    reading = asked(NOON, EVENING)
    assert check_remembering("confirmed", reading, 1, "asked", taken=False) == ()
    assert codes(check_remembering("waiting", reading, 1, "asked", taken=False)) == ["custody.wording-not-confirmed"]
    assert codes(check_remembering("rejected", reading, 1, "asked", taken=False)) == ["custody.wording-not-confirmed"]
    assert codes(check_remembering("confirmed", reading, None, "asked", taken=False)) == ["custody.wording-not-confirmed"]
    assert codes(check_remembering("confirmed", None, 0, "asked", taken=False)) == ["custody.wording-not-confirmed"]
    unsafe = asked(NOON, EVENING, codes=("read.abbreviation",))
    assert codes(check_remembering("confirmed", unsafe, 1, "asked", taken=False)) == ["custody.wording-of-safety"]
    assert codes(check_remembering("confirmed", reading, 1, " ", taken=True)) == ["custody.wording-known", "custody.no-reason"]


def test_a_wording_is_for_the_whole_pharmacy_or_for_the_persons_own_home() -> None:
    assert check_scope(WHOLE_PHARMACY, None) == check_scope(HomeId("lindens"), HomeId("lindens")) == ()
    assert codes(check_scope(HomeId("saltmarsh"), HomeId("lindens"))) == ["custody.unknown-choice"]
    assert codes(check_scope(HomeId("lindens"), None)) == ["custody.unknown-choice"]


def test_a_wording_is_revoked_once_and_with_a_reason() -> None:
    assert check_revoking("dinner is at noon", revoked=False) == ()
    assert codes(check_revoking("", revoked=False)) == ["custody.no-reason"]
    assert codes(check_revoking("again", revoked=True)) == ["custody.wording-revoked"]
