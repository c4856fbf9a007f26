"""Directions as words, read for one order. Comes in: the text and what it is about. Goes out: a reading, and its outcome as findings."""

from collections.abc import Iterator
from functools import lru_cache

from dosewright.core.interop.orders_in import OrderSource
from dosewright.core.interop.units_meant import mean_units
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus, Setting
from dosewright.core.units.finding import Finding, Severity

__all__ = ["findings_of_reading", "read_beside", "read_directions"]

_OUTCOMES = {
    ReadingStatus.DECIDE: ("order.directions-open", Severity.DECIDE),
    ReadingStatus.REFUSE: ("order.directions-unreadable", Severity.STOP),
}


def read_directions(text: str, medicine: Medicine, source: OrderSource) -> Reading:
    """What the words say, for this product, in the file's language and country."""
    return _read_for(text, source.lang, source.country, medicine)


@lru_cache(maxsize=4096)
def _read_for(text: str, lang: str, country: str, medicine: Medicine) -> Reading:
    return mean_units(_read(text, Setting(lang, country, medicine.form, medicine.strength)), medicine)


@lru_cache(maxsize=4096)
def _read(text: str, setting: Setting) -> Reading:
    """Kept, because a pharmacy's orders share a few hundred wordings, and one costs milliseconds."""
    return read(text, setting)


def read_beside(text: str, medicine: Medicine, source: OrderSource) -> Reading:
    """What the words beside an order's structure say: the lines of several instructions are one, each part after the one before."""
    lines = [line.strip().rstrip(".,;") for line in text.splitlines() if line.strip()]
    return read_directions(", ".join(lines) if lines[1:] else text, medicine, source)


def findings_of_reading(reading: Reading, text: str) -> Iterator[Finding]:
    """What a person must settle before anything is scheduled, first as a whole and then question by question; and what was supplied."""
    if reading.status is not ReadingStatus.READ:
        code, severity = _OUTCOMES[reading.status]
        yield Finding(code, severity, {}, {"text": text, "questions": len(reading.questions)})
        for question in reading.questions:
            yield Finding(question.code, severity, {}, dict(question.facts))
    yield from reading.assumed
    yield from reading.notes
