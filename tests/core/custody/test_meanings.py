"""R13: words and structure that came together and do not say the same are laid out as choices, and none counts without being chosen."""

from dataclasses import replace
from datetime import date

import pytest
from tests.core.regimen.regimen_makers import EVERY_MORNING, MONDAY, a_dosage, an_order, every

from dosewright.core.custody.confirming import Around, Confirmation, Settled, settle
from dosewright.core.custody.meanings import LaidOut, lay_out_meanings
from dosewright.core.regimen.dosage import Coding, Dosage
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, Setting
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Moment


def worded(text: str, **fields: object) -> Order:
    """One tablet every morning, with words beside it."""
    dosage = a_dosage(EVERY_MORNING, text=text, **fields)
    return an_order(dosage, text=text, since=Moment(MONDAY), anchor=MONDAY)


def words_alone(text: str) -> Reading:
    return read(text, Setting("en", "GB", "tablet", "5 mg"))


def laid_out(text: str, **fields: object) -> LaidOut:
    return lay_out_meanings(worded(text, **fields), None, words_alone(text), STANDARD_TIMETABLE, MONDAY)


def said(laid: LaidOut) -> list[str | None]:
    return [say_plain(meaning) for meaning in laid.meanings]


def settled(text: str, said: Confirmation) -> Settled:
    return settle(worded(text), None, said, Around((), STANDARD_TIMETABLE, MONDAY, words=words_alone(text)))


MORNING = "Take 1 tablet in the morning."
APART = [
    pytest.param("Take 1 tablet twice a day", [MORNING, "Take 1 tablet twice a day."], id="other times"),
    pytest.param("Take 2 tablets in the morning", [MORNING, "Take 2 tablets in the morning."], id="another amount"),
    pytest.param(
        "Take 1 tablet with dinner",
        [MORNING, "Take 1 tablet with the evening meal.", "Take 1 tablet with lunch."],
        id="words that the reader asks about",
    ),
    pytest.param("Take 1 or 2 tablets in the morning", [MORNING, "Take 2 tablets in the morning."], id="one of several is the structure's"),
    pytest.param("as the mood takes you", [MORNING], id="words without a meaning"),
    pytest.param("Take as directed", [MORNING], id="words that point elsewhere"),
]


@pytest.mark.parametrize(("text", "meanings"), APART)
def test_the_structure_comes_first_and_then_each_thing_that_the_words_may_mean(text: str, meanings: list[str]) -> None:
    laid = laid_out(text)
    assert laid.apart
    assert said(laid) == meanings


@pytest.mark.parametrize("text", ["", "Take one tablet every morning", "1 tablet in the morning with food"])
def test_words_that_agree_leave_the_structure_alone(text: str) -> None:
    laid = laid_out(text)
    assert (laid.apart, laid.meanings) == (False, (worded(text).dosages,))


@pytest.mark.parametrize("field", ["patient_instruction", "additional"])
def test_an_instruction_that_contradicts_the_structure_is_never_set_aside(field: str) -> None:
    value = (Coding(text="Only if blood pressure is above 140"),) if field == "additional" else "Only if blood pressure is above 140"
    order = worded("Take one tablet every morning", **{field: value})
    laid = lay_out_meanings(order, None, words_alone(order.text), STANDARD_TIMETABLE, MONDAY)
    assert (laid.apart, laid.meanings) == (False, (order.dosages,))
    found = settle(order, None, Confirmation(reason="x"), Around((), STANDARD_TIMETABLE, MONDAY)).findings
    assert [finding.code for finding in found] == ["custody.not-schedulable", "text.not-compared"]


def test_a_structure_that_has_a_fault_of_its_own_is_not_made_right_by_setting_words_aside() -> None:
    dosage = a_dosage(every(5, 1, "d"), text="Take 1 tablet twice a day")
    order = an_order(dosage, text=dosage.text)
    assert not lay_out_meanings(order, None, words_alone(order.text), STANDARD_TIMETABLE, MONDAY).apart


def codes(found: Settled) -> list[str]:
    return [finding.code for finding in found.findings]


def test_r13_words_against_structure_are_confirmed_by_a_choice_with_a_reason_and_never_else() -> None:
    text = "Take 1 tablet twice a day"
    assert codes(settled(text, Confirmation())) == ["custody.words-and-structure", "custody.no-reason"]
    assert codes(settled(text, Confirmation(reason="asked"))) == ["custody.words-and-structure"]
    assert codes(settled(text, Confirmation(choice=0))) == ["custody.no-reason"]
    assert codes(settled(text, Confirmation(choice=2, reason="asked"))) == ["custody.words-and-structure"]


@pytest.mark.parametrize(("choice", "meant"), [(0, MORNING), (1, "Take 1 tablet twice a day.")])
def test_what_was_chosen_counts_alone_and_the_words_stay_as_received(choice: int, meant: str) -> None:
    text = "Take 1 tablet twice a day"
    order = settled(text, Confirmation(choice=choice, reason="asked Dr Example")).order
    assert order is not None
    assert (say_plain(order.dosages), order.text) == (meant, text)
    assert all(dosage.text == "" for dosage in order.dosages)


def test_several_instructions_are_the_structure_together() -> None:
    evening = a_dosage(every(1, 1, "d", when=("EVE",)))
    order = worded("Take 1 tablet at noon")
    both: tuple[Dosage, ...] = (*order.dosages, evening)
    laid = lay_out_meanings(replace(order, dosages=both), None, words_alone(order.text), STANDARD_TIMETABLE, date(2026, 3, 2))
    assert laid.apart
    assert len(laid.meanings[0]) == 2
