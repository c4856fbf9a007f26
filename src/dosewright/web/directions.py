"""Directions in plain words, built from the structure; the text as received where there is no structure, or no words for it."""

from collections.abc import Sequence

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.amount_words import NumberStyle

__all__ = ["UNSAID", "say_directions", "say_reading"]

UNSAID = "No plain sentence says exactly this. Look at the fourteen days and at the structure."


def say_directions(dosages: Sequence[Dosage], text: str = "", style: NumberStyle = "digits") -> str:
    """ "Take 1 tablet in the morning and half a tablet at bedtime."; numbers as the pharmacy's profile writes them on paper."""
    return (say_plain(tuple(dosages), "en", style) or text) if dosages else text


def say_reading(dosages: Sequence[Dosage]) -> str:
    """The same, for a reading that stands beside its text: never the text itself, which would agree with anything."""
    return say_plain(tuple(dosages), "en", "digits") or UNSAID
