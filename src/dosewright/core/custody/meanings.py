"""Everything that one order may mean, laid out for the pharmacist: what `Confirmation.choice` counts, from 0, on screen and in the ledger.

Comes in: the order as received, the reading of its words, and, where it came as structure with words beside it, what those words say when
they are read alone. Goes out: the meanings, and whether words and structure disagree. Where they do, the structure comes first, its words
set aside (the order keeps them as received), then each thing that the words may mean.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Choice, Reading, ReadingStatus
from dosewright.core.units.dosing_time import Timetable

__all__ = ["LOOK_AHEAD", "LaidOut", "Meaning", "choices_of", "lay_out_meanings", "schedule_of"]

LOOK_AHEAD = 28  # days over which the order must be schedulable before it is confirmed: one cycle
_BETWEEN_WORDS_AND_STRUCTURE = frozenset({"text.differs", "text.not-compared"})

Meaning = tuple[Dosage, ...]  # every dosage of the order


@dataclass(frozen=True, slots=True)
class LaidOut:
    """The meanings in order. `apart`: words and structure came together and do not say the same; the first meaning is the structure's."""

    meanings: tuple[Meaning, ...]
    apart: bool = False


def choices_of(reading: Reading | None) -> tuple[Choice, ...]:
    """All readings laid out, question after question."""
    return tuple(choice for question in reading.questions for choice in question.choices) if reading else ()


def lay_out_meanings(order: Order, reading: Reading | None, words: Reading | None, timetable: Timetable, today: date) -> LaidOut:
    """`words`: what the order's text says by itself, None where nobody read it. Nothing is laid out of what was refused."""
    if order.dosages:
        return _of_structure(order, words, timetable, today)
    return LaidOut(_said(reading))


def _of_structure(order: Order, words: Reading | None, timetable: Timetable, today: date) -> LaidOut:
    bare = _without_text(order.dosages)
    if bare == order.dosages or not _only_words_stand_in_the_way(schedule_of(order, timetable, today)):
        return LaidOut((order.dosages,))
    if schedule_of(replace(order, dosages=bare), timetable, today).status not in (ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED):
        return LaidOut((order.dosages,))
    return LaidOut(_distinct((bare, *_said(words))), apart=True)


def schedule_of(order: Order, timetable: Timetable, today: date) -> Expansion:
    """The order's doses of a cycle, from today or from its start where that is later."""
    first = max(today, order.since.day) if order.since else today
    return expand(order, timetable, first, LOOK_AHEAD)


def _only_words_stand_in_the_way(found: Expansion) -> bool:
    return bool(found.findings) and all(finding.code in _BETWEEN_WORDS_AND_STRUCTURE for finding in found.findings)


def _without_text(dosages: Meaning) -> Meaning:
    return tuple(replace(dosage, text="") for dosage in dosages)


def _said(reading: Reading | None) -> tuple[Meaning, ...]:
    if reading is None or reading.status is ReadingStatus.REFUSE:
        return ()
    if reading.status is ReadingStatus.READ:
        return (reading.dosages,)
    return tuple(choice.dosages for choice in choices_of(reading))


def _distinct(meanings: Iterable[Meaning]) -> tuple[Meaning, ...]:
    """Each once. What is only written beside the schedule makes no second meaning."""
    found: dict[Meaning, Meaning] = {}
    for meaning in meanings:
        found.setdefault(tuple(replace(dosage, additional=(), route=None, method=None, site=None) for dosage in meaning), meaning)
    return tuple(found.values())
