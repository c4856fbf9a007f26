"""A medicine and an amount in a person's language: what has an entry is said in it, what has none stays as it was given and is named."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.medicine_words import SHAPES, placed_words
from dosewright.core.paper.tongues.english import ENGLISH
from dosewright.core.paper.tongues.french import FRENCH
from dosewright.core.paper.tongues.german import GERMAN
from dosewright.core.paper.tongues.spanish import SPANISH
from dosewright.core.paper.tongues.tongue import Tongue
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS
from dosewright.core.units.amount_words import MEASURED_UNITS, NumberStyle
from dosewright.core.units.quantity import Quantity
from dosewright.core.units.safe_text import tidy_text

__all__ = ["TONGUES", "Said", "amount_in", "cautions_in", "days_in", "form_in", "looks_in", "slot_in"]

TONGUES: Mapping[str, Tongue] = {tongue.lang: tongue for tongue in (ENGLISH, FRENCH, SPANISH, GERMAN)}


@dataclass(frozen=True, slots=True)
class Said:
    """Words, and those of them that have no entry in the language."""

    text: str
    left: tuple[str, ...] = ()


def amount_in(tongue: Tongue, medicine: Medicine, quantity: Quantity, style: NumberStyle) -> str | None:
    """ "1 comprimé", "eine halbe Tablette"; None where the language has no safe words for it."""
    if tongue.lang == "en":
        return placed_words(medicine, quantity, style)
    unit = quantity.unit if quantity.unit in MEASURED_UNITS else medicine.unit
    return PHRASEBOOKS[tongue.lang].say_amount(Quantity(quantity.count, unit), style)


def form_in(tongue: Tongue, form: str) -> Said:
    """The pharmaceutical form."""
    return _entry(tongue, tongue.forms, form)


def looks_in(tongue: Tongue, medicine: Medicine) -> Said:
    """ "white, oval, marked M 5"; nothing where the catalogue says nothing."""
    parts = [_entry(tongue, tongue.colours, medicine.colour)] if medicine.colour else []
    if medicine.shape:
        parts.append(_entry(tongue, tongue.shapes, SHAPES[medicine.shape]))
    if medicine.mark:
        parts.append(Said(tongue.mark.format(a=medicine.mark)))
    return Said(", ".join(part.text for part in parts), tuple(word for part in parts for word in part.left))


def cautions_in(tongue: Tongue, medicine: Medicine, country: str) -> tuple[Said, ...]:
    """Every caution of the catalogue, in its order. None is ever left out for want of an entry."""
    return tuple(_entry(tongue, tongue.cautions, tidy_text(caution, country).rstrip(". ")) for caution in medicine.cautions)


def slot_in(tongue: Tongue, slot: str) -> str:
    """A dosing time's word; a home's own word stays."""
    return tongue.slots.get(slot, slot)


def days_in(tongue: Tongue, days: Sequence[date], first: date, last: date) -> str:
    """Which days: "" for every day from first to last; weekdays where they are all of those; else each date."""
    every = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    if len(days) == len(every):
        return ""
    weekdays = sorted({day.weekday() for day in days})
    # One week does not show a rhythm: "on Mondays" is said only where at least two of each are meant.
    if len(every) >= 14 and [day for day in every if day.weekday() in weekdays] == sorted(days):
        return tongue.on_weekdays.format(a=_listed(tongue, [tongue.weekdays[number] for number in weekdays]))
    return tongue.on_dates.format(a=", ".join(_short_dates(tongue, sorted(days))))


def _short_dates(tongue: Tongue, days: Sequence[date]) -> Iterator[str]:
    return (tongue.day(day).replace(" ", "\u00a0") for day in days)


def _listed(tongue: Tongue, words: list[str]) -> str:
    return f"{', '.join(words[:-1])} {tongue.and_word} {words[-1]}" if len(words) > 1 else words[0]


def _entry(tongue: Tongue, table: Mapping[str, str], words: str) -> Said:
    if tongue.lang == "en" or not words:
        return Said(words)
    known = table.get(words.lower())
    return Said(known) if known else Said(words, (words,))
