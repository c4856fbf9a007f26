"""Words beside a structure: the same doses, or a question. Wordings: common practice, no source."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from tests.core.regimen.regimen_makers import EVERY_MORNING, MONDAY, a_dosage, an_order, codes, every, expanded, from_day

from dosewright.core.regimen.dosage import Amount, Coding, Repeat, Timing, Weekday
from dosewright.core.regimen.expand import expand, expand_structure
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.quantity import Quantity, Unit

MONDAYS = every(1, 1, "wk", day_of_week=(Weekday.MON,), when=("MORN",))
ALTERNATE = every(1, 2, "d", when=("MORN",), bounds_period=from_day(MONDAY))
FOR_A_WEEK = every(1, 1, "d", when=("MORN",), bounds_period=from_day(MONDAY, date(2026, 3, 8)))

AGREE = [
    pytest.param("Take one tablet in the morning", EVERY_MORNING, id="the same"),
    pytest.param("Take one tablet daily", EVERY_MORNING, id="the words leave the time open"),
    pytest.param("One tablet each morning with food", EVERY_MORNING, id="with a harmless instruction"),
    pytest.param("in the morning", EVERY_MORNING, id="time alone"),
    pytest.param("Take one tablet every other day in the morning", ALTERNATE, id="the words leave the start open"),
    pytest.param("once weekly", MONDAYS, id="the words leave the day open"),
    pytest.param("Take one tablet daily", FOR_A_WEEK, id="the words leave the end open"),
    pytest.param("Take one tablet twice daily", every(2, 1, "d"), id="both leave the times open"),
]
DIFFER = [
    pytest.param("Take one tablet twice daily", EVERY_MORNING, id="twice for once"),
    pytest.param("Take two tablets in the morning", EVERY_MORNING, id="two for one"),
    pytest.param("1 capsule in the morning", EVERY_MORNING, id="another form"),
    pytest.param("500 mg in the morning", EVERY_MORNING, id="another unit"),
    pytest.param("Take one tablet at night", every(1, 1, "d"), id="the structure would be given in the morning"),
    pytest.param("Take one tablet as needed", EVERY_MORNING, id="as needed for regular"),
    pytest.param("Take one tablet in the morning for 7 days", EVERY_MORNING, id="an end that the structure lacks"),
    pytest.param("Take one tablet daily", MONDAYS, id="daily for weekly"),
    pytest.param("every day", MONDAYS, id="time alone, daily for weekly"),
    pytest.param(
        "Take one tablet in the morning from 10 March 2026", every(1, 1, "d", when=("MORN",), bounds_period=from_day(MONDAY)), id="later"
    ),
    pytest.param("Take one tablet every other day in the morning from 1 March 2026", ALTERNATE, id="the other days"),
    pytest.param("Do not take on Sundays", EVERY_MORNING, id="a day taken away"),
    pytest.param("Insert one tablet PR in the morning", EVERY_MORNING, id="another way than by mouth"),
]
UNCOMPARED = [
    "per rectum",
    "via PEG",
    "in the left eye",
    "Take as your doctor told you",
    "Stop if you feel dizzy",
    "Only if blood pressure is above 140",
    "zxqv",
]
HARMLESS = ["by mouth", "Take with food", "Swallow whole", "Do not drink alcohol"]
FIELDS = ["text", "patient_instruction", "additional"]


def carrying(field: str, words: str, repeat: Repeat) -> ExpansionStatus:
    value = (Coding(text=words),) if field == "additional" else words
    return expand(an_order(a_dosage(repeat, **{field: value})), STANDARD_TIMETABLE, MONDAY, 14).status


@pytest.mark.parametrize(("words", "repeat"), AGREE)
@pytest.mark.parametrize("field", FIELDS)
def test_words_that_give_the_same_doses_do_not_stop_the_schedule(field: str, words: str, repeat: Repeat) -> None:
    assert carrying(field, words, repeat) is ExpansionStatus.SCHEDULED


def test_a_text_that_says_under_the_tongue_is_no_text_of_a_structure_that_does_not() -> None:
    assert carrying("text", "1 tablet under the tongue in the morning", EVERY_MORNING) is ExpansionStatus.DECIDE


@pytest.mark.parametrize(("words", "repeat"), DIFFER)
@pytest.mark.parametrize("field", FIELDS)
def test_words_that_give_other_doses_are_for_a_person(field: str, words: str, repeat: Repeat) -> None:
    assert carrying(field, words, repeat) is ExpansionStatus.DECIDE


@pytest.mark.parametrize("words", UNCOMPARED)
@pytest.mark.parametrize("field", FIELDS)
def test_words_that_are_not_understood_are_for_a_person(field: str, words: str) -> None:
    assert carrying(field, words, EVERY_MORNING) is ExpansionStatus.DECIDE


@pytest.mark.parametrize("words", HARMLESS)
@pytest.mark.parametrize("repeat", [EVERY_MORNING, MONDAYS, every(3, 1, "d")])
def test_a_harmless_instruction_changes_nothing(words: str, repeat: Repeat) -> None:
    assert carrying("additional", words, repeat) is ExpansionStatus.SCHEDULED


def test_regular_words_beside_an_as_needed_structure_are_for_a_person() -> None:
    dosage = a_dosage(EVERY_MORNING, as_needed=True, text="Take one tablet in the morning")
    assert codes(expand(an_order(dosage), STANDARD_TIMETABLE, MONDAY, 7)) == ["text.differs"]


def test_as_needed_words_beside_an_as_needed_structure_agree() -> None:
    dosage = a_dosage(EVERY_MORNING, as_needed=True, text="Take one tablet in the morning if needed")
    assert expand(an_order(dosage), STANDARD_TIMETABLE, MONDAY, 7).status is ExpansionStatus.AS_NEEDED


def test_an_instruction_that_is_only_a_code_is_for_a_person() -> None:
    dosage = a_dosage(EVERY_MORNING, additional=(Coding("http://example.org", "17"),))
    assert codes(expand(an_order(dosage), STANDARD_TIMETABLE, MONDAY, 7)) == ["text.not-compared"]


def test_the_words_of_a_timing_code_count() -> None:
    timing = Timing(repeat=EVERY_MORNING, code=Coding(text="Twice a day"))
    assert codes(expand(an_order(a_dosage(None, timing=timing)), STANDARD_TIMETABLE, MONDAY, 7)) == ["text.differs"]


def test_texts_of_phases_may_make_sense_only_together() -> None:
    first = a_dosage(
        every(1, 1, "d", when=("MORN",), bounds_period=from_day(MONDAY, date(2026, 3, 4))), sequence=1, text="1 tablet daily for 3 days"
    )
    then = a_dosage(
        every(2, 1, "d", bounds_period=from_day(date(2026, 3, 5), date(2026, 3, 7))),
        sequence=2,
        text="then 1 tablet twice daily for 3 days",
    )
    found = expand(an_order(first, then), STANDARD_TIMETABLE, MONDAY, 14)
    assert (found.status, len(found.doses)) == (ExpansionStatus.SCHEDULED, 9)


def test_a_structure_confirmed_beside_its_words_is_not_compared_again() -> None:
    order = an_order(a_dosage(EVERY_MORNING, text="Take one tablet twice daily"))
    assert len(expand_structure(order, STANDARD_TIMETABLE, MONDAY, 7).doses) == 7


def test_an_order_without_words_is_not_held_up() -> None:
    assert expanded(EVERY_MORNING).status is ExpansionStatus.SCHEDULED


def test_eye_drops_whose_text_alone_says_which_eye_are_not_asked_about() -> None:
    """No card has them, whatever eye it is."""
    dosage = a_dosage(EVERY_MORNING, text="Put 1 drop into the right eye in the morning")
    drops = replace(dosage, amounts=(Amount(quantity=Quantity(Fraction(1), Unit("drop"))),))
    assert expand(an_order(drops), STANDARD_TIMETABLE, MONDAY, 14).status is ExpansionStatus.SCHEDULED
