"""A plain sentence from dosages: "Take 1 tablet in the morning and 1 tablet at bedtime."

Comes in: the dosages of one order, a language, and how numbers are written. Goes out: one text, or None where the structure cannot be said
in plain words without changing it. What is said reads back to the same doses. Sources: Universal Medication Schedule (four periods);
USP <17> (dose apart from timing); the safe-text rules of `core.units.safe_text`.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby

from dosewright.core.regimen.dosage import Dosage, Maximum, TimeUnit
from dosewright.core.regimen.routes import under_the_tongue
from dosewright.core.regimen.words.english import ENGLISH
from dosewright.core.regimen.words.french import FRENCH
from dosewright.core.regimen.words.german import GERMAN
from dosewright.core.regimen.words.phrasebook import Phrasebook
from dosewright.core.regimen.words.sentence import Unsayable, say_phase
from dosewright.core.regimen.words.spanish import SPANISH
from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.safe_text import check_safe_text

__all__ = ["PHRASEBOOKS", "say_plain"]

_ONE_DAY = (TimeUnit.DAY, Fraction(1))

PHRASEBOOKS: dict[str, Phrasebook] = {"en": ENGLISH, "fr": FRENCH, "es": SPANISH, "de": GERMAN}


def say_plain(dosages: Sequence[Dosage], lang: str = "en", number_style: NumberStyle = "digits") -> str | None:
    """One or more sentences in `lang` ("fr-CA" is French), or None. Instructions beside the schedule follow as they were written."""
    tag = lang.replace("_", "-").partition("-")[0].lower()
    book = PHRASEBOOKS.get(tag)
    if book is None or not dosages:
        return None
    try:
        text = _whole(dosages, book, number_style)
    except Unsayable:
        return None
    return text if not check_safe_text(text, lang=tag) else None


def _whole(dosages: Sequence[Dosage], book: Phrasebook, style: NumberStyle) -> str:
    phases = [list(group) for _, group in groupby(dosages, key=lambda dosage: dosage.sequence)]
    if len({phase[0].sequence for phase in phases}) < len(phases) or (len(phases) > 1 and any(d.sequence is None for d in dosages)):
        raise Unsayable
    said = [say_phase(phase, book, style, opening=number == 0) for number, phase in enumerate(phases)]
    sentences = [f", {book.then} ".join(said), *_ways(dosages, book), *_limits(dosages, book, style), *_instructions(dosages)]
    return " ".join(f"{sentence}." for sentence in sentences)


def _ways(dosages: Sequence[Dosage], book: Phrasebook) -> list[str]:
    """By mouth goes without saying."""
    under = {under_the_tongue(dosage.route) for dosage in dosages}
    if len(under) > 1:
        raise Unsayable
    return [book.under_the_tongue] if under.pop() else []


def _limits(dosages: Sequence[Dosage], book: Phrasebook, style: NumberStyle) -> list[str]:
    limits = list(dict.fromkeys(dosage.max_per_period for dosage in dosages))
    if len(limits) > 1 or any(dosage.max_per_administration or dosage.max_per_lifetime for dosage in dosages):
        raise Unsayable
    return [_limit(limits[0], book, style)] if limits[0] else []


def _limit(limit: Maximum, book: Phrasebook, style: NumberStyle) -> str:
    hours = limit.span.value * 24 if (limit.span.unit, limit.span.value) == _ONE_DAY else limit.span.value
    unit = TimeUnit.HOUR if (limit.span.unit, limit.span.value) == _ONE_DAY else limit.span.unit
    amount = book.say_amount(limit.quantity, style)
    if amount is None or unit not in book.at_most or hours.denominator != 1:
        raise Unsayable
    return book.at_most[unit].format(a=amount, n=hours)


def _instructions(dosages: Sequence[Dosage]) -> list[str]:
    """Each once, as written, with a capital."""
    said = dict.fromkeys(one.text.strip().rstrip(".") for dosage in dosages for one in dosage.additional)
    said |= dict.fromkeys(dosage.patient_instruction.strip().rstrip(".") for dosage in dosages)
    if any(one.code and not one.text for dosage in dosages for one in dosage.additional):
        raise Unsayable
    return [text[0].upper() + text[1:] for text in said if text]
