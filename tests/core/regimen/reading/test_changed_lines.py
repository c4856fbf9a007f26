"""A readable line that is changed never keeps its old meaning silently: an unknown word, another number, a negation, two lines joined."""

import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.core.regimen.reading.everyday import COUNTRIES, NEGATIONS, UNKNOWN, lines

from dosewright.core.regimen.reading.languages import LANGUAGES
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus, Setting

QUICK = settings(max_examples=80, deadline=None)
langs = st.sampled_from(sorted(LANGUAGES))


def reading_of(text: str, lang: str) -> Reading:
    return read(text, Setting(lang, COUNTRIES[lang]))


def meaning(text: str, lang: str) -> list[tuple[object, ...]] | None:
    """What is scheduled, without what stands beside the schedule; None where it is not read."""
    found = reading_of(text, lang)
    if found.status is not ReadingStatus.READ:
        return None
    return [(d.timing, d.amounts, d.as_needed, d.as_needed_for, d.max_per_period) for d in found.dosages]


@QUICK
@given(st.data(), langs)
def test_the_everyday_lines_are_read(data: st.DataObject, lang: str) -> None:
    """Else the properties below would be about nothing."""
    line = data.draw(lines(lang))
    assert meaning(line, lang) is not None, (line, reading_of(line, lang).questions)


@QUICK
@given(st.data(), langs, st.sampled_from(UNKNOWN))
def test_an_unknown_word_anywhere_is_a_question(data: st.DataObject, lang: str, unknown: str) -> None:
    words = data.draw(lines(lang)).split()
    at = data.draw(st.integers(0, len(words)))
    replaced = data.draw(st.booleans())
    line = " ".join([*words[:at], unknown, *words[at + 1 if replaced else at :]])
    found = reading_of(line, lang)
    assert found.status is not ReadingStatus.READ
    assert any(line[q.span[0] : q.span[1]] == unknown for q in found.questions)


@QUICK
@given(st.data(), langs, st.integers(1, 40))
def test_another_number_is_another_meaning_or_a_question(data: st.DataObject, lang: str, number: int) -> None:
    line = data.draw(lines(lang))
    numbers = list(re.finditer(r"(?<![\d½.])\d+(?![\d½.])", line))
    assume(numbers)
    found = data.draw(st.sampled_from(numbers))
    assume(int(found[0]) != number)
    assert meaning(line[: found.start()] + str(number) + line[found.end() :], lang) != meaning(line, lang)


@QUICK
@given(st.data(), langs)
def test_a_negation_is_never_passed_over(data: st.DataObject, lang: str) -> None:
    line = data.draw(lines(lang))
    words = line.split()
    at = data.draw(st.integers(0, len(words)))
    negated = " ".join([*words[:at], data.draw(st.sampled_from(NEGATIONS[lang])), *words[at:]])
    assert meaning(negated, lang) != meaning(line, lang), negated


@QUICK
@given(st.data(), langs, st.sampled_from([" ", ". ", "\n", ", ", " / "]))
def test_two_lines_joined_are_never_one_of_them(data: st.DataObject, lang: str, joint: str) -> None:
    first, second = data.draw(lines(lang)), data.draw(lines(lang))
    both = meaning(first + joint + second, lang)
    assert both is None or both not in (meaning(first, lang), meaning(second, lang)), first + joint + second


SWAPPED = {"morning": "evening", "twice": "thrice", "Mondays": "Tuesdays", "bedtime": "noon", "8": "6", "half": "quarter"}


@pytest.mark.parametrize(("word", "other"), SWAPPED.items())
def test_another_known_word_is_another_meaning(word: str, other: str) -> None:
    for line in (
        "Take 1 tablet in the morning",
        "Take 1 tablet twice a day",
        "1 tablet on Mondays",
        "1 at bedtime",
        "1 every 8 hours",
        "half a tablet daily",
    ):
        if word in line.split():
            assert meaning(line.replace(word, other), "en") != meaning(line, "en")


ALPHABET = "abcdefghijklmnopqrstuvwxyzäéñ"


@settings(max_examples=200, deadline=None)
@given(st.data(), langs)
def test_spelling_noise_never_gives_another_schedule(data: st.DataObject, lang: str) -> None:
    """One or two letters struck out, doubled, swapped or replaced: the same meaning, or a question."""
    line = data.draw(lines(lang))
    noisy = line
    for _ in range(data.draw(st.integers(1, 2))):
        noisy = data.draw(misspelled(noisy))
    assert meaning(noisy, lang) in (None, meaning(line, lang)), noisy


@st.composite
def misspelled(draw: st.DrawFn, line: str) -> str:
    """A slip of the keyboard inside one word of four letters or more: shorter words and numbers are other words at once."""
    long = list(re.finditer(r"[^\W\d_]{4,}", line))
    assume(long)
    word = draw(st.sampled_from(long))
    at = draw(st.integers(word.start(), word.end() - 2))
    letter: str = draw(st.sampled_from(ALPHABET))
    kind = draw(st.sampled_from(("strike", "double", "swap", "replace")))
    if kind == "strike":
        return line[:at] + line[at + 1 :]
    if kind == "double":
        return line[:at] + line[at] + line[at:]
    if kind == "swap":
        return line[:at] + line[at + 1] + line[at] + line[at + 2 :]
    return line[:at] + letter + line[at + 1 :]
