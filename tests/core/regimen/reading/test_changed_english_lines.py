"""A readable English line of any kind, changed: never its old meaning silently, and never a different one by a slip of the keyboard."""

import re

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.core.regimen.reading.english_lines import ADDED, NEGATIONS, english_lines
from tests.core.regimen.reading.everyday import UNKNOWN
from tests.core.regimen.reading.test_changed_lines import misspelled

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus, Setting

QUICK = settings(max_examples=120, deadline=None)


def reading_of(line: str) -> Reading:
    return read(line, Setting("en", "GB"))


def schedule(line: str) -> list[tuple[object, ...]] | None:
    """What is given and when; None where the line is not read."""
    found = reading_of(line)
    return [_given(dosage) for dosage in found.dosages] if found.status is ReadingStatus.READ else None


def _given(dosage: Dosage) -> tuple[object, ...]:
    return dosage.sequence, dosage.timing, dosage.amounts, dosage.as_needed, dosage.as_needed_for, dosage.max_per_period


@QUICK
@given(english_lines())
def test_the_lines_are_read(line: str) -> None:
    """Else the properties below would be about nothing."""
    assert schedule(line) is not None, reading_of(line).questions


@QUICK
@given(english_lines(), st.sampled_from(UNKNOWN), st.data())
def test_an_unknown_word_in_place_of_any_word_or_beside_it_is_asked_with_its_letters(line: str, unknown: str, data: st.DataObject) -> None:
    words = line.split(" ")
    at = data.draw(st.integers(0, len(words) - 1))
    changed = " ".join([*words[:at], unknown, *words[at + data.draw(st.integers(0, 1)) :]])
    found = reading_of(changed)
    assert found.status is not ReadingStatus.READ
    assert any(changed[q.span[0] : q.span[1]] == unknown for q in found.questions)


@QUICK
@given(english_lines(), st.integers(2, 40), st.data())
def test_another_number_is_another_schedule_or_a_question(line: str, number: int, data: st.DataObject) -> None:
    numbers = list(re.finditer(r"(?<![\d½.])\d+(?![\d½.])", line))
    assume(numbers)
    found = data.draw(st.sampled_from(numbers))
    assume(int(found[0]) != number)
    changed = line[: found.start()] + str(number) + line[found.end() :]
    assert schedule(changed) is None or schedule(changed) != schedule(line), changed


@QUICK
@given(english_lines(), st.sampled_from(NEGATIONS), st.data())
def test_a_negation_is_never_passed_over(line: str, negation: str, data: st.DataObject) -> None:
    words = line.split(" ")
    at = data.draw(st.integers(0, len(words)))
    changed = " ".join([*words[:at], negation, *words[at:]])
    assert schedule(changed) is None or schedule(changed) != schedule(line), changed


@QUICK
@given(english_lines(), st.sampled_from(("stop ", "Stop. ", "STOP: ", "stop taking. ", "Stop\n", "do not take. ", "withhold ")))
def test_an_order_to_stop_before_a_line_is_never_passed_over(line: str, stop: str) -> None:
    assert schedule(stop + line) is None, stop + line


@QUICK
@given(english_lines(), st.sampled_from(ADDED), st.sampled_from((" ", ", ", ". ", "\n")))
def test_what_is_added_at_the_end_is_never_passed_over(line: str, added: str, joint: str) -> None:
    assume(not (added.startswith("except") and "days" in line))  # "on Tuesdays except Sundays" is on Tuesdays
    changed = line + joint + added
    assert schedule(changed) is None or schedule(changed) != schedule(line), changed


@QUICK
@given(english_lines(), english_lines(), st.sampled_from((" ", ". ", "\n", ", ", " / ", " and ", "; ")))
def test_two_lines_joined_are_never_one_of_them(first: str, second: str, joint: str) -> None:
    both = schedule(first + joint + second)
    assert both is None or both not in (schedule(first), schedule(second)), first + joint + second


@settings(max_examples=300, deadline=None)
@given(english_lines(), st.integers(1, 2), st.data())
def test_slips_of_the_keyboard_never_give_another_schedule(line: str, slips: int, data: st.DataObject) -> None:
    noisy = line
    for _ in range(slips):
        noisy = data.draw(misspelled(noisy))
    assert schedule(noisy) in (None, schedule(line)), noisy
