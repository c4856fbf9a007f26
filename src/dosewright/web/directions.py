"""Directions in plain words, built from the structure; the text as received where there is no structure, or no words for it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS, say_plain
from dosewright.core.units.amount_words import NumberStyle

__all__ = ["UNSAID", "Spoken", "say_directions", "say_in_languages", "say_reading"]

UNSAID = "No plain sentence says exactly this. Look at the fourteen days and at the structure."


def say_directions(dosages: Sequence[Dosage], text: str = "", style: NumberStyle = "digits") -> str:
    """ "Take 1 tablet in the morning and half a tablet at bedtime."; numbers as the pharmacy's profile writes them on paper."""
    return (say_plain(tuple(dosages), "en", style) or text) if dosages else text


def say_reading(dosages: Sequence[Dosage]) -> str:
    """The same, for a reading that stands beside its text: never the text itself, which would agree with anything."""
    return say_plain(tuple(dosages), "en", "digits") or UNSAID


@dataclass(frozen=True, slots=True)
class Spoken:
    """A reading in one language: its code, its own name for itself, the sentence."""

    lang: str
    name: str
    text: str


# Each language's own name for itself
_OWN_NAMES = {"en": "English", "fr": "français", "es": "español", "de": "Deutsch"}


def say_in_languages(dosages: Sequence[Dosage], languages: Iterable[str]) -> tuple[Spoken, ...]:
    """The reading in each of the languages, "fr-CA" as French, each once. A language that has no plain sentence for it is left out."""
    wanted = dict.fromkeys(lang.replace("_", "-").partition("-")[0].lower() for lang in languages)
    said = ((lang, say_plain(tuple(dosages), lang, "digits")) for lang in wanted if lang in PHRASEBOOKS)
    return tuple(Spoken(lang, _OWN_NAMES[lang], text) for lang, text in said if text)
