"""Random rows of known words, numbers, marks and nonsense: never an exception, never a reading without a dose, never work without bound."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tools.random_lines import fault_of, random_line, setting_of

from dosewright.core.regimen.reading.languages import LANGUAGES, find_language
from dosewright.core.regimen.reading.lexing import lex
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.parsing import MOST_ROWS, accepted_rows
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

NUMBERS = ("1", "2", "½", "1/2", "1½", "0.5", "1,5", "500", "5/7", "1-0-1", "1-2", "8am", "08:00", "20h", "q8h", "3x", ".5", "1.0", "11/2")
MARKS = (",", ".", "(", ")", "-", "+", "/", ";", ":", "&", "\n", "<", "@", "x", "blorp", "½½", "…", "🙂")


def words(lang: str) -> st.SearchStrategy[str]:
    language = find_language(lang, "")
    assert language is not None
    known = st.sampled_from(sorted(language.lexicon.words))
    return st.one_of(known, known, known, st.sampled_from(NUMBERS), st.sampled_from(MARKS))


@pytest.mark.parametrize("lang", LANGUAGES)
def test_any_row_of_tokens_has_an_outcome(lang: str) -> None:
    @settings(max_examples=100, deadline=None)
    @given(st.lists(words(lang), max_size=40), st.sampled_from(["", "GB", "US", "FR", "CA", "DE", "ES"]))
    def check(tokens: list[str], country: str) -> None:
        line = " ".join(tokens)
        reading = read(line, Setting(lang, country))
        assert bool(reading.dosages) == (reading.status is ReadingStatus.READ)
        assert bool(reading.questions) == (reading.status is not ReadingStatus.READ)
        assert all(0 <= start <= end <= len(line) for question in reading.questions for start, end in [question.span])

    check()


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60))
def test_any_text_at_all_has_an_outcome(text: str) -> None:
    reading = read(text, Setting("en", "GB"))
    assert bool(reading.dosages) == (reading.status is ReadingStatus.READ)


def rows_of(count: int) -> int:
    language = find_language("en", "GB")
    assert language is not None
    return len(accepted_rows(lex("Take 1 tablet with dinner. " * count, language.lexicon, language.customs).known, language.table))


def test_the_same_word_has_the_same_meaning_all_along_a_line() -> None:
    assert [rows_of(count) for count in (1, 2, 5)] == [2, 2, 2]


def test_the_rows_of_senses_stay_few_however_many_words_have_two() -> None:
    """Two senses a word would be 2^40 rows; the search stops at MOST_ROWS of them."""
    assert MOST_ROWS < 2**6
    with pytest.raises(Unclear) as stopped:
        rows_of(40)
    assert stopped.value.doubt.code == "read.too-many"


@settings(max_examples=400, deadline=None)
@given(st.integers(0, 10**6), st.integers(0, 10**6))
def test_any_phrases_of_the_grammar_have_an_outcome(seed: int, number: int) -> None:
    """The lines of `tools.random_lines`, of which a million were read (docs/directions.md)."""
    setting = setting_of(seed, number)
    line = random_line(seed, number, setting)
    assert fault_of(read(line, setting), line) == ""


def test_a_line_of_a_seed_is_always_the_same_so_a_run_can_be_cut() -> None:
    found = {(number, random_line(7, number, setting_of(7, number))) for number in range(20)}
    assert found == {(number, random_line(7, number, setting_of(7, number))) for number in reversed(range(20))}
    assert len({line for _, line in found}) > 15


def test_phrases_carried_on_from_before_leave_the_question_on_letters_of_the_line() -> None:
    """Once the letters asked about ended before they began: a random line found it."""
    line = "einmal insgesamt zweiten gefolgt von höchstens hoechstens ½ eine stdn"
    assert fault_of(read(line, Setting("de", "DE")), line) == ""
