"""R13: where one of several instructions of an order leaves a question, a choice is the whole order, never the one instruction alone."""

from fractions import Fraction
from typing import Any

import pytest
from tests.core.interop.interop_makers import dosage, patient, received, request

from dosewright.core.regimen.reading.reading_values import Reading

MORNING, OPEN = dosage(), {"text": "Take 1 or 2 tablets at bedtime"}


def reading_of(*instructions: dict[str, Any]) -> Reading:
    """What is open about an order of these instructions."""
    (one,) = received(patient(), request(dosageInstruction=list(instructions))).unsettled
    assert one.reading is not None
    return one.reading


def choices(reading: Reading) -> list[list[tuple[Fraction, str]]]:
    """Each choice as amounts with their time."""
    return [
        [
            (one.amounts[0].quantity.count, one.timing.repeat.when[0])
            for one in choice.dosages
            if one.amounts[0].quantity and one.timing and one.timing.repeat
        ]
        for question in reading.questions
        for choice in question.choices
    ]


@pytest.mark.parametrize("instructions", [(MORNING, OPEN), (OPEN, MORNING)], ids=["after", "before"])
def test_every_choice_holds_the_other_instructions_too(instructions: tuple[dict[str, Any], ...]) -> None:
    found = choices(reading_of(*instructions))
    morning, ones = (Fraction(1), "MORN"), [(Fraction(1), "HS"), (Fraction(2), "HS")]
    assert [sorted(choice) for choice in found] == [sorted([morning, one]) for one in ones]
    assert found[0][instructions.index(MORNING)] == morning


def test_two_open_instructions_lay_out_no_choice_and_every_question() -> None:
    reading = reading_of(OPEN, {"text": "Take 1 or 2 tablets in the morning"})
    assert choices(reading) == []
    assert len(reading.questions) == 2


def test_what_stands_beside_the_words_is_in_every_choice() -> None:
    reading = reading_of({**OPEN, "patientInstruction": "Swallow whole"})
    assert [dosage.patient_instruction for question in reading.questions for choice in question.choices for dosage in choice.dosages] == [
        "Swallow whole",
        "Swallow whole",
    ]
