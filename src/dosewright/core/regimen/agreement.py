"""Whether the words that an order carries say the same as its structure: both are expanded, and the doses compared.

Comes in: the dosages of an order, and their structure, found. Goes out: a `decide` for each statement that gives other doses or
cannot be compared. The words of `text`, `patientInstruction`, `additionalInstruction` and the timing code count. Words that leave every one
of several quite different directions unchanged ("with food") are harmless; words of time alone ("twice a day") are compared in time alone.
Source: HL7 FHIR R4 (4.0.1) Dosage.text: it should reflect the structure; nothing makes it agree.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import lru_cache

from dosewright.core.regimen.course import Course, Days, Start, StartFrom
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expansion import ExpansionStatus, decide
from dosewright.core.regimen.phases import Strand
from dosewright.core.regimen.reading.instructions import changes_nothing
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting
from dosewright.core.regimen.routes import is_swallowed, other_way
from dosewright.core.regimen.structure import Structure, find_structure
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Finding

__all__ = ["COMPARED_DAYS", "check_agreement"]

# Long enough for two rounds of a yearly rhythm; "once a month" and "every 4 weeks" part after the first.
COMPARED_DAYS = 400
_FIRST_LOOK = 28  # days; a month that lacks the 31st is no reason not to compare

_LANGUAGES = ("en", "fr", "es", "de")
_DIRECTIONS = (
    "Take 1 tablet in the morning.",
    "Take 2 tablets at bedtime.",
    "Take 3 tablets at noon on Mondays.",
    "Take 4 tablets every other day in the evening.",
    "Take 5 tablets once a week in the morning.",
)
_WITHOUT_AMOUNT = "Take 1 tablet"  # put before words that name no amount


@dataclass(frozen=True, slots=True)
class _Statement:
    """Words, and which dosage carries them; None: they are all the texts of the order, one after another."""

    place: int | None
    words: str


@dataclass(frozen=True, slots=True)
class _Given:
    """One dose for comparison: days from the first dose of the structure."""

    day: int
    slot: str
    count: Fraction
    unit: str


def check_agreement(dosages: Sequence[Dosage], structure: Structure, timetable: Timetable, window: Days) -> tuple[Finding, ...]:
    """A `decide` for each statement that does not agree, in order; none where the structure itself is stopped, or carries no words."""
    if structure.status not in (ExpansionStatus.SCHEDULED, ExpansionStatus.AS_NEEDED):
        return ()
    found = [(statement, _check(statement, dosages, structure, timetable, window)) for statement in _statements(dosages)]
    wrong = [(statement, code) for statement, code in found if code]
    if wrong and _agrees_as_a_whole(dosages, structure, timetable, window):
        wrong = [(statement, code) for statement, code in wrong if not _is_text(statement, dosages)]
    return tuple(_finding(statement, code) for statement, code in wrong)


def _finding(statement: _Statement, code: str) -> Finding:
    return replace(decide(code, words=statement.words), where={"path": f"dosage[{statement.place}]"})


def _statements(dosages: Sequence[Dosage]) -> Iterator[_Statement]:
    for place, dosage in enumerate(dosages):
        code = dosage.timing.code if dosage.timing else None
        spoken = code.text if code and code.text != code.code else ""
        for words in dict.fromkeys((dosage.text, dosage.patient_instruction, *(one.text for one in dosage.additional), spoken)):
            if words.strip():
                yield _Statement(place, words)
        yield from (_Statement(place, f"{one.system}|{one.code}") for one in dosage.additional if not one.text)


def _is_text(statement: _Statement, dosages: Sequence[Dosage]) -> bool:
    return statement.place is not None and dosages[statement.place].text == statement.words


def _agrees_as_a_whole(dosages: Sequence[Dosage], structure: Structure, timetable: Timetable, window: Days) -> bool:
    """The texts of several dosages may only make sense together: "4 tablets daily for 3 days", "then 2 tablets daily for 3 days"."""
    texts = [dosage.text.strip().rstrip(".,;") for dosage in dosages]
    return len(texts) > 1 and all(texts) and _check(_Statement(None, ", ".join(texts)), dosages, structure, timetable, window) is None


def _check(statement: _Statement, dosages: Sequence[Dosage], structure: Structure, timetable: Timetable, window: Days) -> str | None:
    """The code of what is wrong with the statement, or None."""
    spoken = _read(statement.words)
    if spoken is None and (_stands_aside(statement.words, dosages) or _is_harmless(statement.words)):
        return None
    spoken = spoken or _read_as_time(statement.words)
    if spoken is None:
        return "text.not-compared"
    ways_differ = bool(other_way(spoken.dosages)) != bool(other_way(dosages)) and is_swallowed(dosages)
    if ways_differ and (other_way(spoken.dosages) or _says_a_way(spoken)):
        return "text.differs"
    own = tuple(strand for strand in structure.strands if strand.part.place == statement.place)
    choices = [structure, replace(structure, strands=own)] if own else [structure]
    said = [_compare(choice, spoken, timetable, window) for choice in choices]
    return None if None in said else said[0]


@dataclass(frozen=True, slots=True)
class _Spoken:
    """What words were read as; `amounts`: whether they name any."""

    dosages: tuple[Dosage, ...]
    amounts: bool = True


@lru_cache(maxsize=4096)
def _read(words: str) -> _Spoken | None:
    """The one reading of the words in the first language that knows them all. Where that one asks, no other is tried: "once" is eleven in
    Spanish."""
    for language in _LANGUAGES:
        reading = read(words, Setting(lang=language))
        if reading.status is ReadingStatus.READ:
            return _Spoken(reading.dosages)
        if all(question.code != "read.unknown-word" for question in reading.questions):
            return None
    return None


def _read_as_time(words: str) -> _Spoken | None:
    """Words that say when and not how much."""
    read_with = _read(f"{_WITHOUT_AMOUNT} {words}")
    return replace(read_with, amounts=False) if read_with else None


def _says_a_way(spoken: _Spoken) -> bool:
    return any(dosage.route is not None for dosage in spoken.dosages)


def _stands_aside(words: str, dosages: Sequence[Dosage]) -> bool:
    """Whether the words are only an instruction or a reason, in any of the languages: "à jeun", "for high blood pressure"."""
    repeats = [dosage.timing.repeat for dosage in dosages if dosage.timing and dosage.timing.repeat]
    named = {*(code for repeat in repeats for code in repeat.when), *("clock" for repeat in repeats if repeat.time_of_day)}
    ends = bool(repeats) and all(repeat.bounds_duration or (repeat.bounds_period and repeat.bounds_period.end) for repeat in repeats)
    return _changes_nothing(words, tuple(sorted(named)), ends=ends, another_way=bool(other_way(dosages)) or not is_swallowed(dosages))


@lru_cache(maxsize=4096)
def _changes_nothing(words: str, named: tuple[str, ...], *, ends: bool, another_way: bool) -> bool:
    return any(changes_nothing(words, language, named, ends=ends, another_way=another_way) for language in _LANGUAGES)


@lru_cache(maxsize=4096)
def _is_harmless(words: str) -> bool:
    """Whether the words change nothing, whatever they stand beside: read at the end of directions that differ in everything."""
    return all(_without_words(f"{direction} {words}") == _without_words(direction) for direction in _DIRECTIONS)


def _without_words(text: str) -> tuple[Dosage, ...] | None:
    reading = read(text, Setting(lang="en"))
    if reading.status is not ReadingStatus.READ or other_way(reading.dosages):
        return None
    return tuple(replace(dosage, text="", patient_instruction="", additional=(), route=None, method=None) for dosage in reading.dosages)


def _compare(structure: Structure, spoken: _Spoken, timetable: Timetable, window: Days) -> str | None:
    """What the words give from the structure's first dose on, against what the structure gives."""
    first = _first_day(structure.strands, window)
    start = date.fromordinal(first if first is not None else window.first)
    bare = tuple(replace(dosage, text="", patient_instruction="", additional=()) for dosage in spoken.dosages)
    theirs = find_structure(bare, Start(start.toordinal(), source=StartFrom(stated=True)), timetable, _days(start, _FIRST_LOOK))
    if ExpansionStatus.AS_NEEDED in (structure.status, theirs.status):
        return None if structure.status is theirs.status else "text.differs"
    if theirs.status is not ExpansionStatus.SCHEDULED or first is None:
        return "text.not-compared"
    if _plainly_same(structure.strands, theirs, first, amounts=spoken.amounts):
        return None
    days = _days(start, COMPARED_DAYS)
    if not _has_end(theirs.strands) and _has_end(structure.strands):
        days = Days(days.first, min(days.last, max(strand.when.last_day or 0 for strand in structure.strands)))
    key = _key(exact=not _assumes_time(theirs), amounts=spoken.amounts)
    return None if _same(_given(structure.strands, days), _given(theirs.strands, days), key) else "text.differs"


def _days(first: date, days: int) -> Days:
    return Days(first.toordinal(), min(first.toordinal() + days - 1, date.max.toordinal()))


def _first_day(strands: Sequence[Strand], window: Days) -> int | None:
    """The day of the structure's first dose, from its own start where it has one."""
    begins = [strand.when.first_day for strand in strands]
    start = window.first if None in begins else min((day for day in begins if day is not None), default=window.first)
    for length in (_FIRST_LOOK, COMPARED_DAYS):
        days = _days(date.fromordinal(start), length)
        found = [moments[0].ordinal for strand in strands if (moments := strand.when.moments(days))]
        if found:
            return min(found)
    return None


def _plainly_same(ours: Sequence[Strand], theirs: Structure, first: int, *, amounts: bool) -> bool:
    """One and the same rhythm on both sides: there is nothing to lay out. False where that is not plain."""
    if len(ours) != 1 or len(theirs.strands) != 1:
        return False
    (our,), (their,) = ours, theirs.strands
    mine, other = our.when, their.when
    if not isinstance(mine, Course) or not isinstance(other, Course) or not _ends_allow(mine, other, first):
        return False
    rule, slots = mine.rhythm.rule, mine.rhythm.slots
    days = other.rhythm.rule == rule and rule.phase(mine.anchor) == rule.phase(other.anchor)
    times = other.rhythm.slots == slots or (_assumes_time(theirs) and len(other.rhythm.slots) == len(slots))
    units = {our.part.quantity.unit, their.part.quantity.unit} - {""}
    return days and times and (not amounts or (len(units) <= 1 and our.part.quantity.count == their.part.quantity.count))


def _ends_allow(mine: Course, other: Course, first: int) -> bool:
    """The words begin no later than the first dose, and end together with the structure where they name an end."""
    return (other.first is None or other.first[0] <= first) and other.last in (None, mine.last)


def _has_end(strands: Sequence[Strand]) -> bool:
    return all(strand.when.last_day is not None for strand in strands)


def _assumes_time(structure: Structure) -> bool:
    return any(finding.code == "assumed.time-of-day" for strand in structure.strands for finding in strand.when.assumed)


def _given(strands: Sequence[Strand], days: Days) -> list[_Given]:
    return [
        _Given(moment.ordinal, moment.slot.name, strand.part.quantity.count, strand.part.quantity.unit)
        for strand in strands
        for moment in strand.when.moments(days)
    ]


def _key(*, exact: bool, amounts: bool) -> Callable[[_Given], tuple[int, str, Fraction]]:
    """What must be equal of two doses: the day; the dosing time where the words name it (`exact`); how much where they say so."""

    def key(one: _Given) -> tuple[int, str, Fraction]:
        return one.day, one.slot if exact else "", one.count if amounts else Fraction(0)

    return key


def _same(ours: list[_Given], theirs: list[_Given], key: Callable[[_Given], tuple[int, str, Fraction]]) -> bool:
    """Equal dose by dose, in one unit; a unit that one side leaves out is no difference."""
    units = {one.unit for one in (*ours, *theirs) if key(one)[2]} - {""}
    return len(units) <= 1 and sorted(map(key, ours)) == sorted(map(key, theirs))
