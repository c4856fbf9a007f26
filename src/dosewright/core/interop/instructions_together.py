"""Several instructions of one order, some of which leave a question: what the whole order may mean.

Comes in: for each instruction its structure, or the reading that leaves it open. Goes out: one reading whose every choice is the whole
order. A choice for one instruction alone would leave out the others in silence.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.reading.reading_values import Choice, Question, Reading, ReadingStatus

__all__ = ["Instruction", "whole_reading", "with_choices"]

Instruction = tuple[tuple[Dosage, ...], Reading | None]  # structure; where it is empty the reading says why


def with_choices(reading: Reading, make: Callable[[tuple[Dosage, ...]], tuple[Dosage, ...]]) -> Reading:
    """The reading with each choice made anew; one of which nothing is made is no choice."""
    return replace(reading, questions=tuple(replace(question, choices=_made(question, make)) for question in reading.questions))


def _made(question: Question, make: Callable[[tuple[Dosage, ...]], tuple[Dosage, ...]]) -> tuple[Choice, ...]:
    made = ((choice, make(choice.dosages)) for choice in question.choices)
    return tuple(replace(choice, dosages=dosages) for choice, dosages in made if dosages)


def whole_reading(instructions: Sequence[Instruction]) -> Reading | None:
    """None where none is open. Where one is, its choices with the others before and after it; where several are, all questions without a
    choice: what they mean together is written anew by a person."""
    open_ones = [place for place, (dosages, reading) in enumerate(instructions) if reading is not None and not dosages]
    readings = [reading for _, reading in (instructions[place] for place in open_ones) if reading is not None]
    if not readings:
        return None
    if len(readings) > 1 or any(not dosages for place, (dosages, _) in enumerate(instructions) if place not in open_ones):
        return _without_choices(readings)
    (place,), (reading,) = open_ones, readings
    before = tuple(dosage for dosages, _ in instructions[:place] for dosage in dosages)
    after = tuple(dosage for dosages, _ in instructions[place + 1 :] for dosage in dosages)
    return with_choices(reading, lambda dosages: (*before, *dosages, *after))


def _without_choices(readings: Sequence[Reading]) -> Reading:
    refused = any(reading.status is ReadingStatus.REFUSE for reading in readings)
    questions = tuple(replace(question, choices=()) for reading in readings for question in reading.questions)
    return Reading(ReadingStatus.REFUSE if refused else ReadingStatus.DECIDE, questions=questions)
