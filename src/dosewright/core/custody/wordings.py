"""Wordings whose meaning a pharmacist has confirmed once for this pharmacy, or for one home of it, and that need not be asked anew.

Comes in: the words as received with their setting, the reading of them, a remembered wording. Goes out: which of the meanings laid out is
the remembered one, or findings why a wording cannot be remembered. A wording chooses among what the reader lays out, never beyond it: it
applies only while the reader lays out exactly the same meanings for exactly the same questions. The order still waits for a pharmacist.
"""

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace

from dosewright.core.custody.conventions import CONVENTIONS
from dosewright.core.custody.meanings import Meaning, choices_of
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.dosage import Dosage, Timing
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import HomeId

__all__ = [
    "WHOLE_PHARMACY",
    "Wording",
    "WordingKey",
    "check_remembering",
    "check_revoking",
    "check_scope",
    "choice_by",
    "key_of",
    "may_remember",
    "remember",
]

WHOLE_PHARMACY = HomeId("")


@dataclass(frozen=True, slots=True)
class WordingKey:
    """The words, all blanks one and all letters small, and everything that their reading may depend on. `home`: whose people it is for."""

    text: str
    lang: str
    country: str
    form: str
    unit: str
    home: HomeId = WHOLE_PHARMACY


@dataclass(frozen=True, slots=True)
class Wording:
    """`codes`: the questions that were open, in order; `meanings`: everything that was laid out, in order; `chosen`: which is meant."""

    key: WordingKey
    codes: tuple[str, ...]
    meanings: tuple[Meaning, ...]
    chosen: int


def key_of(text: str, lang: str, country: str, medicine: Medicine, home: HomeId = WHOLE_PHARMACY) -> WordingKey:
    """Exactly these words: nothing but blanks, the case of letters and the way accents are coded is levelled."""
    plain = " ".join(unicodedata.normalize("NFC", text).casefold().split())
    return WordingKey(plain, lang, country, medicine.form, medicine.unit, home)


def may_remember(reading: Reading | None) -> bool:
    """Whether all that is open about the words is a convention: every question is in the table, and all meanings laid out give the same
    amounts, as often, on the same days, and differ in the time of day alone."""
    if reading is None or reading.status is not ReadingStatus.DECIDE:
        return False
    meanings = [choice.dosages for choice in choices_of(reading)]
    conventions = all(question.code in CONVENTIONS for question in reading.questions)
    return bool(meanings) and conventions and len({_without_time_of_day(meaning) for meaning in meanings}) == 1


def _without_time_of_day(meaning: Meaning) -> Meaning:
    return tuple(_timeless(dosage) for dosage in meaning)


def _timeless(dosage: Dosage) -> Dosage:
    timing = dosage.timing
    if timing is None or timing.repeat is None:
        return dosage
    repeat = timing.repeat
    often = len(repeat.when) or len(repeat.time_of_day)
    same = replace(repeat, when=(f"{often} times",), time_of_day=(), offset=None)
    return replace(dosage, timing=Timing(timing.events, same, timing.code))


def remember(key: WordingKey, reading: Reading, choice: int) -> Wording:
    """The wording to be kept. Raises ValueError where it may not be remembered."""
    meanings = tuple(one.dosages for one in choices_of(reading))
    if not may_remember(reading) or not 0 <= choice < len(meanings):
        raise ValueError("a question of safety is asked each time")
    return Wording(key, tuple(question.code for question in reading.questions), meanings, choice)


def choice_by(wording: Wording | None, reading: Reading | None) -> int | None:
    """Which of the reading's choices the wording says; None where it says nothing about this reading, or may not any more."""
    if wording is None or reading is None or not may_remember(reading):
        return None
    meanings = [choice.dosages for choice in choices_of(reading)]
    same_questions = sorted(question.code for question in reading.questions) == sorted(wording.codes)
    if not same_questions or set(meanings) != set(wording.meanings) or len(meanings) != len(wording.meanings):
        return None
    return meanings.index(wording.meanings[wording.chosen])


def check_remembering(standing: str, reading: Reading | None, choice: int | None, reason: str, *, taken: bool) -> tuple[Finding, ...]:
    """Find an order that is not confirmed by one of its readings, a question of safety, a wording that is remembered already, and a missing
    reason. `choice`: which reading the order was confirmed by; None where its directions were written anew."""
    return tuple(_check_remembering(standing, reading, choice, reason, taken=taken))


def _check_remembering(standing: str, reading: Reading | None, choice: int | None, reason: str, *, taken: bool) -> Iterator[Finding]:
    if standing != "confirmed" or choice is None or not 0 <= choice < len(choices_of(reading)):
        yield Finding("custody.wording-not-confirmed", Severity.STOP)
    elif not may_remember(reading):
        yield Finding("custody.wording-of-safety", Severity.STOP)
    if taken:
        yield Finding("custody.wording-known", Severity.STOP)
    if not reason.strip():
        yield Finding("custody.no-reason", Severity.STOP)


def check_scope(home: HomeId, own: HomeId | None) -> tuple[Finding, ...]:
    """A wording is remembered for the whole pharmacy or for the home of the person whose order it is, for no other."""
    if home in (WHOLE_PHARMACY, own):
        return ()
    return (Finding("custody.unknown-choice", Severity.STOP, facts={"choice": home, "choices": (own or "", "the whole pharmacy")}),)


def check_revoking(reason: str, *, revoked: bool) -> tuple[Finding, ...]:
    """Find a wording that was revoked before, and a missing reason."""
    found = (Finding("custody.wording-revoked", Severity.STOP),) if revoked else ()
    return found if reason.strip() else (*found, Finding("custody.no-reason", Severity.STOP))
